import type { Pot } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import { numberStyle, type NumberStyle, type TextTable } from '../../../tables';
import { potsToMeasure } from '../../queries/records';
import { codeBook, labelBook } from '../codes/codeBook';
import { guessColumns, longColumns, type ColumnPart, type ColumnUse } from '../columns';
import { matchLong } from './matchLong';
import type { CellOutcome, CellReport, RowReport, TablePreview } from './outcome';
import { placeCode } from '../codes/placeCode';
import { refuseTwice } from './refuseTwice';
import { unknownCode } from '../codes/runCode';
import { linesByRun } from './tableRuns';
import { numberAndUnit } from '../unitFactor';
import { wideOutcome } from './wideCells';
import { columnsFault, isMeasured, unrecorded } from './wideColumns';

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
    use: unrecorded(plan, uses[i] ?? guessed[i] ?? { use: 'nothing' }, table),
  }));
  const at = (part: ColumnPart): number => columns.findIndex(({ use }) => use.use === part);
  const problem = columnsFault(columns);
  const styles = columns.map(({ use }, i) => (isMeasured(use) ? styleOf(table, [i]) : null));
  const shown = styleOf(
    table,
    columns.flatMap(({ use }, i) => (isMeasured(use) ? [i] : [])),
  );
  const preview = { form: 'wide', decimal: shown.decimal, columns, problem } as const;
  const nameOf = potNamer(plan, at);
  if (!nameOf) return { ...preview, cells: [], rows: [], missingPots: [] };

  const rows: RowReport[] = [];
  const cells: CellReport[] = [];
  const written = table.rows.map((row) => nameOf(row.cells));
  const found = written.map((code) => find(code));
  const dateColumn = at('date');
  const problems = rowProblems(table, written, found, dateColumn < 0);
  const named = new Set<string>();
  for (const [r, row] of table.rows.entries()) {
    const code = written[r] ?? '';
    const match = found[r];
    const pot = match === 'several' ? undefined : match;
    if (pot) named.add(pot.id);
    const rowProblem = problems[r] ?? null;
    if (rowProblem !== null) rows.push({ line: row.line, code, problem: rowProblem });
    const day = dateColumn < 0 ? '' : (row.cells[dateColumn] ?? '').trim();
    for (const [column, { use }] of columns.entries()) {
      const text = row.cells[column] ?? '';
      const outcome = row.merged?.includes(column)
        ? mergedOutcome(use)
        : wideOutcome(plan, use, text, rowProblem === null ? (pot ?? null) : null, {
            style: row.exact?.includes(column) ? EXACT : (styles[column] ?? shown),
            day,
          });
      if (!outcome) continue;
      cells.push({
        line: row.line,
        column,
        text,
        potId: pot?.id ?? null,
        code: pot?.code ?? code,
        outcome,
      });
    }
  }
  if (dateColumn >= 0) refuseTwice(cells);
  const missingPots = potsToMeasure(plan).filter((pot) => !named.has(pot.id));
  return { ...preview, cells, rows, missingPots };
}

/** The style of the texts of some columns, whose numbers may bear units. */
function styleOf(table: TextTable, columns: readonly number[]): NumberStyle {
  const texts = table.rows.flatMap(({ cells, exact }) =>
    columns.flatMap((i) => (exact?.includes(i) ? [] : [cells[i] ?? ''])),
  );
  return numberStyle(
    table.decimalStated ? table.decimal : null,
    texts.map((text) => numberAndUnit(text.trim()).digits || text),
  );
}

/** Of a cell that is a number by itself. */
const EXACT: NumberStyle = { decimal: '.', by: 'person' };

/** What the cells of a line call its pot; null: no column tells pots. */
function potNamer(
  plan: Plan,
  at: (part: ColumnPart) => number,
): ((cells: readonly string[]) => string) | null {
  const cell = (cells: readonly string[], part: ColumnPart) => cells[at(part)]?.trim() ?? '';
  if (at('pot') >= 0) return (cells) => cell(cells, 'pot');
  if (at('tray') >= 0 && at('row') >= 0 && at('column') >= 0) {
    return (cells) =>
      placeCode(
        plan,
        ...(['shelf', 'tray', 'row', 'column'] as const).map((part) => cell(cells, part)),
      );
  }
  if (at('plant') < 0) return null;
  const find = labelBook(plan);
  return (cells) => {
    const written = cell(cells, 'plant');
    const pot = find(written);
    return pot && pot !== 'several' ? pot.code : written;
  };
}

function rowProblems(
  table: TextTable,
  written: readonly string[],
  found: readonly (Pot | 'several' | undefined)[],
  once: boolean,
): (RowReport['problem'] | null)[] {
  const count = new Map<Pot | 'several' | undefined, number>();
  for (const pot of found) count.set(pot, (count.get(pot) ?? 0) + 1);
  return table.rows.map(({ line }, r) => {
    const match = found[r];
    if (line === table.cutLine) return 'cut-off';
    if (written[r] === '') return 'no-code';
    if (match === undefined) return unknownCode(written[r] ?? '');
    if (match === 'several') return 'code-of-several-pots';
    return once && (count.get(match) ?? 0) > 1 ? 'code-twice' : null;
  });
}

const mergedOutcome = (use: ColumnUse): CellOutcome | null =>
  isMeasured(use) || use.use === 'mark' ? { kind: 'merged' } : null;
