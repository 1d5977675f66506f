import type { ReactNode } from 'react';
import { Explained } from './terms/Explained';

export interface TableColumn<Row> {
  key: string;
  head: ReactNode;
  /** Shown under the head, e.g. the unit. */
  unit?: string;
  numeric?: boolean;
  cell: (row: Row) => ReactNode;
}

/** A column of figures, named by its head. */
export function figureColumn<Row>(
  head: string,
  cell: (row: Row) => ReactNode,
  unit?: string,
): TableColumn<Row> {
  return { key: head, head, numeric: true, cell, ...(unit === undefined ? {} : { unit }) };
}

/** A plain data table: head stays in sight, numbers align on the right. */
export function Table<Row>(props: {
  caption: string;
  showCaption?: boolean;
  columns: readonly TableColumn<Row>[];
  rows: readonly Row[];
  rowKey: (row: Row) => string;
  onRowClick?: (row: Row) => void;
  onRowHover?: (row: Row | null) => void;
  isMarked?: (row: Row) => boolean;
  testId?: string;
}) {
  return (
    <div className="table-frame" tabIndex={0} role="group" aria-label={props.caption}>
      <table className="table" data-testid={props.testId}>
        <caption className={props.showCaption ? '' : 'visually-hidden'}>{props.caption}</caption>
        <thead>
          <tr>
            {props.columns.map((column) =>
              column.head === '' ? (
                <td key={column.key} />
              ) : (
                <th key={column.key} scope="col" className={column.numeric ? 'is-number' : ''}>
                  {typeof column.head === 'string' ? <Explained text={column.head} /> : column.head}
                  {column.unit ? <span className="table-unit">{column.unit}</span> : null}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {props.rows.map((row) => (
            <tr
              key={props.rowKey(row)}
              className={props.isMarked?.(row) ? 'is-marked' : ''}
              onClick={props.onRowClick ? () => props.onRowClick?.(row) : undefined}
              onMouseEnter={() => props.onRowHover?.(row)}
              onMouseLeave={() => props.onRowHover?.(null)}
            >
              {props.columns.map((column, index) => {
                const cell = column.cell(row);
                const look = column.numeric ? 'is-number' : '';
                // Where a name above holds on, the cell is empty and names nothing.
                return index === 0 && cell !== '' ? (
                  <th key={column.key} scope="row" className={look}>
                    {cell}
                  </th>
                ) : (
                  <td key={column.key} className={look}>
                    {cell}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
