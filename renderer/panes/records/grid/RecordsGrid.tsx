import { useMemo } from 'react';
import type { ValueQuestion } from '../../../derive/records/valueQuestions';
import { measurementLabel } from '../../../document/queries';
import type { GridCells } from './gridActs';
import { GridRow } from './GridRow';
import { plantWords, rowViews, type CellPlace } from './rowView';
import { useGridCells } from './useGridCells';
import { ROW_PX, useGridWindow } from './useGridWindow';

export interface RecordsGridProps extends GridCells {
  questions: ReadonlyMap<string, readonly ValueQuestion[]>;
  /** Keys of the cells that were passed over and are still empty. */
  passed: ReadonlySet<string>;
  current: CellPlace | null;
  /** The cell to bring into sight and focus. */
  wanted: CellPlace | null;
}

/**
 * The recording grid: a line a pot in the chosen order, a column a measurement. Type, Enter, next.
 * Only the lines in sight are in the page, so that ten thousand pots scroll like ten; of these only
 * the ones that show something else are drawn anew.
 */
export function RecordsGrid(props: RecordsGridProps) {
  const { pots, measurements, wanted, acts: around } = props;
  const { layout, records } = props.plan;
  const { marks, notes } = records;
  const plantText = useMemo(() => plantWords(layout, { marks, notes }), [layout, marks, notes]);
  // Before the window's, whose effect moves the focus and thereby leaves a cell.
  const { draft, acts } = useGridCells(props);
  const { frame, from, to, scrolled } = useGridWindow(pots, measurements, wanted, around.reached);
  const rows = rowViews({ ...props, records, plantText, draft }, from, to);

  return (
    <div
      ref={frame}
      className="records-frame"
      onScroll={scrolled}
      data-testid="records-grid"
      data-own-focus
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
          {from > 0 ? <tr style={{ height: from * ROW_PX }} aria-hidden="true" /> : null}
          {rows.map((view) => (
            <GridRow key={view.pot.id} view={view} measurements={measurements} acts={acts} />
          ))}
          {to < pots.length ? (
            <tr style={{ height: (pots.length - to) * ROW_PX }} aria-hidden="true" />
          ) : null}
        </tbody>
      </table>
    </div>
  );
}
