import { walkingOrder, type Pot } from '../../derive';
import {
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
  type ClipboardEvent,
  type KeyboardEvent,
} from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import { enterValues, importValues, markPots } from '../../document/commands';
import { measurementLabel } from '../../document/queries';
import { findSlips, pasteColumn, readNumber, toValues } from '../../document/records';
import { measuredPots } from '../../document/queries';
import { useDispatch, useSession } from '../../store/context';
import { nextCell } from './cellKeys';

const ROW_PX = 30;

/**
 * The recording grid: a line a pot in walking order, a column a measurement. Type, Enter, next.
 * Only the lines in sight are in the page, so that ten thousand pots scroll like ten.
 */
export function RecordsGrid(props: {
  plan: Plan;
  measurements: readonly Measurement[];
  trayId: string | null;
  say: (text: string) => void;
}) {
  const { plan, measurements, trayId, say } = props;
  const dispatch = useDispatch();
  const select = useSession((s) => s.select);
  const frame = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const [height, setHeight] = useState(400);
  const [wanted, setWanted] = useState<{ row: number; column: number } | null>(null);
  const pots = useMemo(
    () => walkingOrder(measuredPots(plan)).filter((pot) => !trayId || pot.trayId === trayId),
    [plan, trayId],
  );
  const slips = useMemo(
    () =>
      new Map(findSlips(plan).map((slip) => [`${slip.measurementId} ${slip.potId}`, slip.text])),
    [plan],
  );

  useLayoutEffect(() => {
    const element = frame.current;
    if (!element) return;
    const observer = new ResizeObserver(() => setHeight(element.clientHeight));
    observer.observe(element);
    return () => observer.disconnect();
  }, []);

  // A cell out of sight is brought into the page first, then focused.
  useLayoutEffect(() => {
    const element = frame.current;
    if (!wanted || !element) return;
    const from = wanted.row * ROW_PX;
    if (from < element.scrollTop) element.scrollTop = from;
    else if (from + 2 * ROW_PX > element.scrollTop + element.clientHeight - ROW_PX) {
      element.scrollTop = from + 3 * ROW_PX - element.clientHeight;
    }
    setTop(element.scrollTop);
    const input = element.querySelector<HTMLInputElement>(
      `[data-cell="${wanted.row}:${wanted.column}"]`,
    );
    if (input) {
      input.focus();
      setWanted(null);
    }
  }, [wanted, top]);

  const first = Math.max(0, Math.floor(top / ROW_PX) - 6);
  const last = Math.min(pots.length, Math.ceil((top + height) / ROW_PX) + 6);

  const paste = (event: ClipboardEvent, pot: Pot, measurement: Measurement) => {
    const text = event.clipboardData.getData('text');
    if (!/[\r\n\t]/.test(text.trim())) return;
    event.preventDefault();
    const preview = pasteColumn(plan, text, {
      measurementId: measurement.id,
      fromPotId: pot.id,
      pots,
    });
    if (preview.problem !== null) {
      say(preview.problem);
      return;
    }
    const { values, marks } = toValues(preview, true);
    const wrong = preview.cells.filter((c) => c.outcome.kind === 'not-a-number');
    if (wrong.length > 0) {
      say(
        `Nothing was pasted: line ${wrong[0]?.line ?? '?'} holds “${wrong[0]?.text ?? ''}”, a number is expected.`,
      );
      return;
    }
    dispatch(importValues, { values, marks });
    const beyond = preview.beyond.length;
    say(
      `Pasted ${values.length} values from ${pot.code} on${beyond > 0 ? `; ${beyond} lines lie beyond the last pot and were left out` : ''}.`,
    );
  };

  return (
    <div
      ref={frame}
      className="records-frame"
      onScroll={(event) => setTop(event.currentTarget.scrollTop)}
      data-testid="records-grid"
    >
      <table className="records-table">
        <thead>
          <tr>
            <th scope="col">Pot</th>
            {measurements.map((m) => (
              <th key={m.id} scope="col" className="is-number">
                {measurementLabel(m)}
                <span className="table-unit">{m.unit}</span>
              </th>
            ))}
            <th scope="col">Plant</th>
          </tr>
        </thead>
        <tbody>
          {first > 0 ? <tr style={{ height: first * ROW_PX }} aria-hidden="true" /> : null}
          {pots.slice(first, last).map((pot, i) => {
            const row = first + i;
            const mark = plan.records.marks[pot.id];
            return (
              <tr key={pot.id} style={{ height: ROW_PX }} className={mark ? 'is-struck' : ''}>
                <th scope="row">{pot.code}</th>
                {measurements.map((m, column) => (
                  <td key={m.id}>
                    <ValueCell
                      place={`${row}:${column}`}
                      label={`${measurementLabel(m)} of ${pot.code}`}
                      value={plan.records.values[m.id]?.[pot.id] ?? null}
                      decimals={m.decimals}
                      slip={slips.get(`${m.id} ${pot.id}`)}
                      onFocus={() => select([`pot:${pot.id}`])}
                      onPaste={(event) => paste(event, pot, m)}
                      onMove={(event) => {
                        const size = { rows: pots.length, columns: measurements.length };
                        const next = nextCell(event.key, event.shiftKey, { row, column }, size);
                        if (next) setWanted(next);
                        return next !== null;
                      }}
                      onCommit={(value) =>
                        dispatch(enterValues, {
                          measurementId: m.id,
                          entries: [{ potId: pot.id, value }],
                        }).ok
                      }
                    />
                  </td>
                ))}
                <td>
                  <select
                    className="input records-mark"
                    aria-label={`State of plant ${pot.code}`}
                    value={mark?.mark ?? 'alive'}
                    onChange={(event) => {
                      const chosen = event.target.value;
                      const isMark =
                        chosen === 'dead' || chosen === 'missing' || chosen === 'excluded';
                      dispatch(markPots, {
                        potIds: [pot.id],
                        mark: isMark
                          ? {
                              mark: chosen,
                              date: new Date().toISOString().slice(0, 10),
                              reason: '',
                            }
                          : null,
                      });
                    }}
                  >
                    <option value="alive">alive</option>
                    <option value="dead">dead</option>
                    <option value="missing">missing</option>
                    <option value="excluded">excluded</option>
                  </select>
                </td>
              </tr>
            );
          })}
          {last < pots.length ? (
            <tr style={{ height: (pots.length - last) * ROW_PX }} aria-hidden="true" />
          ) : null}
        </tbody>
      </table>
    </div>
  );
}

function ValueCell(props: {
  place: string;
  label: string;
  value: number | null;
  decimals: number;
  slip: string | undefined;
  onFocus: () => void;
  onPaste: (event: ClipboardEvent) => void;
  /** True where the key was one that moves. */
  onMove: (event: KeyboardEvent) => boolean;
  onCommit: (value: number | null) => boolean;
}) {
  const shown = props.value === null ? '' : props.value.toFixed(props.decimals);
  const [draft, setDraft] = useState<string | null>(null);
  const text = draft ?? shown;
  const value = text.trim() === '' ? null : readNumber(text, text.includes(',') ? ',' : '.');
  const wrong = draft !== null && text.trim() !== '' && value === null;
  const commit = (): boolean => {
    if (draft === null || draft === shown) {
      setDraft(null);
      return true;
    }
    if (wrong) return false;
    const done = props.onCommit(value);
    if (done) setDraft(null);
    return done;
  };
  return (
    <input
      className={`input input-numeric records-cell ${props.slip ? 'is-odd' : ''}`}
      data-cell={props.place}
      aria-label={props.label}
      aria-invalid={wrong ? true : undefined}
      title={wrong ? 'A number is expected.' : props.slip}
      inputMode="decimal"
      autoComplete="off"
      value={text}
      onFocus={(event) => {
        event.target.select();
        props.onFocus();
      }}
      onChange={(event) => setDraft(event.target.value)}
      onBlur={commit}
      onPaste={props.onPaste}
      onKeyDown={(event) => {
        if (event.key === 'Escape') {
          setDraft(null);
          return;
        }
        const moves = ['Enter', 'ArrowDown', 'ArrowUp', 'PageDown', 'PageUp'].includes(event.key);
        if (!moves) return;
        event.preventDefault();
        if (commit()) props.onMove(event);
      }}
    />
  );
}
