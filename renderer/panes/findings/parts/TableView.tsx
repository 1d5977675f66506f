import type { FindingsTable, ReportCell } from '../../../print/report';
import { Table } from '../../../ui';
import { TakeTable } from './TakeAway';
import { useRowPots } from './useRowPots';

/** One of the findings' tables; a row about a pot leads to it on the rack. */
export function TableView({ table, testId }: { table: FindingsTable | null; testId?: string }) {
  const { goTo } = useRowPots();
  if (!table || table.rows.length === 0) return null;
  const rows = table.rows.map((cells, i) => ({ cells, i }));
  const potOf = (row: (typeof rows)[number]) => row.cells.find((cell) => cell.potId)?.potId;
  const clickable = rows.some((row) => potOf(row) !== undefined);
  return (
    <div className="findings-table">
      <TakeTable table={table} />
      <Table<(typeof rows)[number]>
        caption={table.caption}
        showCaption
        rows={rows}
        rowKey={(row) => String(row.i)}
        isMarked={(row) => row.i === table.marked}
        {...(testId ? { testId } : {})}
        {...(clickable
          ? {
              onRowClick: (row: (typeof rows)[number]) => {
                const pot = potOf(row);
                if (pot) goTo(pot);
              },
            }
          : {})}
        columns={table.columns.map((column, k) => ({
          key: `${k} ${column.head}`,
          head: column.head,
          ...(column.unit ? { unit: column.unit } : {}),
          numeric: column.numeric ?? false,
          cell: (row) => {
            const cell = row.cells[k];
            // Empty as a whole, so that the table knows that this is no name of a row.
            if (!cell || [cell.text, cell.under, cell.mark].every((said) => !said)) return '';
            return (
              <>
                {cell.strong ? <strong>{cell.text}</strong> : <CellText cell={cell} />}
                {cell.under ? (
                  <span className="findings-under">{cell.under.replace(' to ', ' to\u00a0')}</span>
                ) : null}
                {cell.mark ? <span className="findings-mark">{cell.mark}</span> : null}
              </>
            );
          },
        }))}
      />
      {table.note ? <p className="field-remark">{table.note}</p> : null}
    </div>
  );
}

/** Words among figures may break; a figure keeps in one line with what belongs to it. */
function CellText({ cell }: { cell: ReportCell }) {
  if (typeof cell.value === 'number' || cell.ends) return cell.text;
  return <span className="findings-text">{cell.text}</span>;
}
