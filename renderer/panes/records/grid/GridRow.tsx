import { memo } from 'react';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import { measurementLabel } from '../../../document/queries';
import type { CellActs } from './gridActs';
import { sameRow, type RowView } from './rowView';
import { ROW_PX } from './useGridWindow';
import { ValueCell } from './ValueCell';

export interface GridRowProps {
  view: RowView;
  measurements: readonly Measurement[];
  acts: CellActs;
}

/** Whether a line can stay as it is. */
export function sameGridRow(a: GridRowProps, b: GridRowProps): boolean {
  return a.measurements === b.measurements && a.acts === b.acts && sameRow(a.view, b.view);
}

/** The line of one pot; drawn anew only where it shows something else. */
export const GridRow = memo(function GridRow({ view, measurements, acts }: GridRowProps) {
  const { pot, row, isStruck, isCurrent, plant } = view;
  return (
    <tr
      style={{ height: ROW_PX }}
      className={isStruck ? 'is-struck' : isCurrent ? 'is-current' : ''}
    >
      <th scope="row">{pot.code}</th>
      {view.cells.map((cell, column) => {
        const measurement = measurements[column];
        if (!measurement) return null;
        const at = { row, column, pot, measurement };
        return (
          <td key={measurement.id}>
            <ValueCell
              {...cell}
              place={`${row}:${column}`}
              label={`${measurementLabel(measurement)} of ${pot.code}`}
              onFocus={() => acts.focus(at)}
              onDraft={(text) => acts.type(at, text)}
              onLeave={() => acts.leave(at)}
              onPaste={(event) => acts.paste(at, event)}
              onKeyDown={(event) => acts.press(at, event)}
            />
          </td>
        );
      })}
      <td>
        <button
          type="button"
          className="records-plant"
          tabIndex={-1}
          aria-label={`${plant}: plant in ${pot.code}`}
          title={plant}
          onClick={() => acts.about(pot)}
        >
          {plant}
        </button>
      </td>
    </tr>
  );
}, sameGridRow);
