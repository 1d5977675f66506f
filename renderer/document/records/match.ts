import type { Pot } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import { markSchema } from '../../../shared-types/records';
import { potsToMeasure } from '../queries/records';
import { codeBook } from './codeBook';
import { unknownCode } from './runCode';
import { linesByRun } from './tableRuns';
import { guessColumns, longColumns } from './columns';
import type { ColumnUse } from './columns';
import { matchLong } from './matchLong';
import { isBlank, numberStyle } from '../../tables';
import type { NumberStyle, TextTable } from '../../tables';
import { valueOutcome } from './outcome';
import type { CellOutcome, CellReport, RowReport, TablePreview } from './outcome';
import { list } from '../../words';

/**
 * Holds a table against the plan. `uses` overrules what is guessed from the column names, by
 * column; a table with columns for pot, measurement and value is taken for a long one (see
 * matchLong.ts). Codes are matched without regard to case, dash and spaces. Of several runs, lines of
 * the run in hand are taken, and the others counted.
 */
export function matchTable(
  plan: Plan,
  table: TextTable,
  uses: Readonly<Record<number, ColumnUse>> = {},
): TablePreview {
  const { own, others, rows } = linesByRun(plan, table, uses);
  const preview = matchOwn(plan, own, uses);
  return { ...preview, rows: [...rows, ...preview.rows], otherRuns: others };
}

function matchOwn(
  plan: Plan,
  table: TextTable,
  uses: Readonly<Record<number, ColumnUse>>,
): Omit<TablePreview, 'otherRuns'> {
  const long = longColumns(plan, table.columns);
  if (long) return matchLong(plan, table, long);
  const find = codeBook(plan);
  const known = (column: number) =>
    table.rows.filter((row) => find(row.cells[column] ?? '') !== undefined).length;
  const guessed = guessColumns(plan, table.columns, known);
  const columns = table.columns.map((name, i) => ({
    name,
    use: uses[i] ?? guessed[i] ?? { use: 'nothing' },
  }));
  const problem = faultOf(columns);
  const measured = columns.flatMap(({ use }, i) => (use.use === 'measurement' ? [i] : []));
  const style = numberStyle(
    table.decimalStated ? table.decimal : null,
    table.rows.flatMap((row) => measured.map((i) => row.cells[i] ?? '')),
  );
  const preview = { form: 'wide', decimal: style.decimal, columns, problem } as const;
  const potColumn = columns.findIndex(({ use }) => use.use === 'pot');
  if (potColumn < 0) return { ...preview, cells: [], rows: [], missingPots: [] };

  const rows: RowReport[] = [];
  const cells: CellReport[] = [];
  const found = table.rows.map((row) => find(row.cells[potColumn] ?? ''));
  const count = new Map<Pot | 'several' | undefined, number>();
  for (const pot of found) count.set(pot, (count.get(pot) ?? 0) + 1);
  const named = new Set<string>();
  for (const [r, row] of table.rows.entries()) {
    const written = row.cells[potColumn]?.trim() ?? '';
    const match = found[r];
    const pot = match === 'several' ? undefined : match;
    if (pot) named.add(pot.id);
    let rowProblem: RowReport['problem'] | null = null;
    if (row.line === table.cutLine) rowProblem = 'cut-off';
    else if (written === '') rowProblem = 'no-code';
    else if (match === undefined) rowProblem = unknownCode(written);
    else if (match === 'several') rowProblem = 'code-of-several-pots';
    else if ((count.get(match) ?? 0) > 1) rowProblem = 'code-twice';
    if (rowProblem !== null) rows.push({ line: row.line, code: written, problem: rowProblem });
    for (const [column, { use }] of columns.entries()) {
      const outcome = outcomeOf(
        plan,
        use,
        row.cells[column] ?? '',
        rowProblem === null ? (pot ?? null) : null,
        style,
      );
      if (!outcome) continue;
      const text = row.cells[column] ?? '';
      const place = { line: row.line, column, text };
      cells.push({ ...place, potId: pot?.id ?? null, code: pot?.code ?? written, outcome });
    }
  }
  const missingPots = potsToMeasure(plan).filter((pot) => !named.has(pot.id));
  return { ...preview, cells, rows, missingPots };
}

function faultOf(columns: readonly { name: string; use: ColumnUse }[]): string | null {
  if (columns.length === 1)
    return 'The table has one column only; choose what separates its columns.';
  const potColumns = columns.filter(({ use }) => use.use === 'pot');
  if (potColumns.length === 0) return 'No column holds the codes of the pots.';
  if (potColumns.length > 1) {
    return `${list(potColumns.map(({ name }) => name))} are ${potColumns.length > 2 ? 'all' : 'both'} taken for the pots.`;
  }
  const seen = new Map<string, string>();
  for (const { name, use } of columns) {
    if (use.use === 'ambiguous') return `Say which measurement the column ${name} holds.`;
    if (use.use !== 'measurement') continue;
    const other = seen.get(use.measurementId);
    if (other !== undefined) return `${other} and ${name} are taken for the same measurement.`;
    seen.set(use.measurementId, name);
  }
  const useful = columns.some(({ use }) => use.use === 'measurement' || use.use === 'mark');
  return useful ? null : 'No column holds a measurement of the trial.';
}

function outcomeOf(
  plan: Plan,
  use: ColumnUse,
  text: string,
  pot: Pot | null,
  style: NumberStyle,
): CellOutcome | null {
  if (use.use !== 'measurement' && use.use !== 'mark') return null;
  if (isBlank(text)) return { kind: 'blank' };
  if (!pot) return { kind: 'no-pot' };
  if (use.use === 'mark') {
    const mark = markSchema.shape.mark.safeParse(text.trim().toLowerCase());
    return mark.success ? { kind: 'mark', mark: mark.data } : { kind: 'not-a-mark' };
  }
  return valueOutcome(plan, use.measurementId, text, pot.id, style);
}
