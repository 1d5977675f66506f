import type { Plan } from '../../../../shared-types/plan';
import type { TextTable } from '../../../tables';
import { hasSeveralRuns, runNumber, runsOf } from '../../runs';
import { plainName, RUN_COLUMN, type ColumnUse } from '../columns';
import type { RowReport, TablePreview } from './outcome';

/** The lines of a table by the run that its column names. */
export interface LinesByRun {
  /** The table with the lines of the run in hand. */
  own: TextTable;
  others: TablePreview['otherRuns'];
  /** Lines whose run cannot be read, or that the trial does not have. */
  rows: RowReport[];
}

/**
 * Takes the lines of the run in hand out of a table that names the run of each, as tables go out
 * where a trial has several. Without such a column, or with a single run, all lines are its own.
 */
export function linesByRun(
  plan: Plan,
  table: TextTable,
  uses: Readonly<Record<number, ColumnUse>>,
): LinesByRun {
  const at = hasSeveralRuns(plan)
    ? table.columns.findIndex((name, i) =>
        uses[i] ? uses[i].use === 'run' : plainName(name) === RUN_COLUMN,
      )
    : -1;
  if (at < 0) return { own: table, others: [], rows: [] };
  const shown = runNumber(plan);
  const count = runsOf(plan).length;
  const others = new Map<number, number>();
  const rows: RowReport[] = [];
  const kept = table.rows.filter((row) => {
    const written = row.cells[at] ?? '';
    const run = numberOf(written);
    if (run === shown) return true;
    if (run === null || run < 1 || run > count) {
      rows.push({ line: row.line, code: '', problem: 'no-run' });
    } else others.set(run, (others.get(run) ?? 0) + 1);
    return false;
  });
  return {
    own: { ...table, rows: kept },
    others: [...others]
      .sort(([a], [b]) => a - b)
      .map(([run, lines]) => ({ name: `run ${run}`, lines })),
    rows,
  };
}

function numberOf(written: string): number | null {
  const [, number] = /^\s*(?:run\s*)?(\d+)\s*$/i.exec(written) ?? [];
  return number === undefined ? null : Number(number);
}
