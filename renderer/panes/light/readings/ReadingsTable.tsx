import { Fragment, useRef, type KeyboardEvent, type ReactNode } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { type ReadingRow } from '../../../derive';
import { BEFORE_CHANGE } from '../../../engine/light';
import { removeReadings } from '../../../document/commands';
import { useDispatch, useSession } from '../../../store/context';
import { ReadingEditor } from './ReadingEditor';
import { fixed, lengthNumber, plural, sayDay, listSign } from '../../../words';

/**
 * All readings; the selected one opens to be edited in its row. Arrow keys go from row to row, Enter
 * or Space opens and closes, Delete removes.
 */
export function ReadingsTable({ plan, rows }: { plan: Plan; rows: readonly ReadingRow[] }) {
  const dispatch = useDispatch();
  const selection = useSession((s) => s.selection);
  const select = useSession((s) => s.select);
  const body = useRef<HTMLTableSectionElement>(null);
  const { lengths } = plan.display;
  const refOf = (row: ReadingRow) => `reading:${row.reading.id}`;
  const isOpen = (row: ReadingRow) => selection.includes(refOf(row));
  const open = rows.findIndex(isOpen);
  const focusRow = (i: number) => {
    body.current?.querySelectorAll<HTMLElement>('tr[data-reading]')[i]?.focus();
  };
  const toggle = (row: ReadingRow) => select(isOpen(row) ? [] : [refOf(row)]);

  const onKeyDown = (event: KeyboardEvent, row: ReadingRow, i: number) => {
    // Keys typed in the row's own fields are theirs.
    if (event.target !== event.currentTarget) return;
    switch (event.key) {
      case 'ArrowDown':
      case 'ArrowUp':
        focusRow(Math.min(rows.length - 1, Math.max(0, i + (event.key === 'ArrowDown' ? 1 : -1))));
        break;
      case 'Home':
        focusRow(0);
        break;
      case 'End':
        focusRow(rows.length - 1);
        break;
      case 'Enter':
      case ' ':
        toggle(row);
        break;
      case 'Delete':
        dispatch(removeReadings, { readingIds: [row.reading.id] });
        break;
      default:
        return;
    }
    event.preventDefault();
    event.stopPropagation();
  };

  return (
    <div className="table-frame light-readings">
      <table className="table" data-testid="readings">
        <caption>
          {plural(rows.length, 'reading')}, PPFD in µmol m⁻² s⁻¹, places in{' '}
          {lengths === 'metric' ? 'mm' : 'inches'}. Choose one to edit it.
        </caption>
        <thead>
          <tr>
            <th scope="col">Shelf: x, y, height</th>
            <th scope="col" className="is-number">
              measured
            </th>
            <th scope="col" className="is-number">
              estimated<span className="table-unit">→calibrated</span>
            </th>
            <th scope="col" className="is-number">
              off by<span className="table-unit">%</span>
            </th>
          </tr>
        </thead>
        <tbody ref={body}>
          {rows.map((row, i) => {
            const { reading } = row;
            const length = (mm: number) => lengthNumber(mm, lengths);
            const place = [reading.xMm, reading.yMm, reading.zMm].map(length).join(listSign());
            return (
              <Fragment key={reading.id}>
                <tr
                  data-reading={reading.id}
                  className={isOpen(row) ? 'is-marked' : ''}
                  tabIndex={i === Math.max(open, 0) ? 0 : -1}
                  onClick={() => toggle(row)}
                  onKeyDown={(event) => onKeyDown(event, row, i)}
                >
                  <th scope="row">
                    {row.shelfNumber}: {place}
                    {reading.date || reading.note ? (
                      <span className="light-interval">
                        {[reading.date && sayDay(reading.date), reading.note]
                          .filter(Boolean)
                          .join(', ')}
                      </span>
                    ) : null}
                  </th>
                  <td className="is-number">{orDash(row.measuredUmol)}</td>
                  <td className="is-number">
                    {row.checked?.unusable === null
                      ? `${fixed(row.checked.estimatedUmol, 0)}→${orDash(row.checked.calibratedUmol)}`
                      : '–'}
                  </td>
                  <td className="is-number">{residual(row)}</td>
                </tr>
                {isOpen(row) ? (
                  <tr>
                    <td colSpan={4}>
                      <ReadingEditor plan={plan} reading={reading} />
                    </td>
                  </tr>
                ) : null}
              </Fragment>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

function orDash(ppfd: number | null): string {
  return ppfd === null ? '–' : fixed(ppfd, 0);
}

function residual({ checked, outdated }: ReadingRow): ReactNode {
  if (outdated && checked?.unusable !== null) return BEFORE_CHANGE;
  if (!checked) return 'not used';
  if (checked.unusable !== null) return checked.unusable;
  const percent = checked.residualPercent;
  const text = percent === null ? '–' : `${percent > 0 ? '+' : ''}${fixed(percent, 1)}`;
  return (
    <>
      {text}
      {checked.outlier ? <span className="light-interval">left out</span> : null}
      {outdated && !checked.outlier ? <span className="light-interval">carried over</span> : null}
    </>
  );
}
