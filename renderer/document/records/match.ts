import type { Pot } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import { markSchema } from '../../../shared-types/records';
import type { Mark } from '../../../shared-types/records';
import type { Measurement } from '../../../shared-types/trial';
import { measuredPots } from '../queries/records';
import { codeBook } from './codeBook';
import { guessColumns } from './columns';
import type { ColumnUse } from './columns';
import { isBlank, readNumber } from './number';
import type { DecimalMark } from './number';
import type { TextTable } from './table';

/** What becomes of one cell of a column that holds a measurement or marks. */
export interface CellReport {
  line: number;
  /** The column of the table, counted from 0. */
  column: number;
  text: string;
  potId: string | null;
  code: string;
  outcome:
    | { kind: 'value'; measurementId: string; value: number; replaces: number | null }
    | { kind: 'out-of-range'; measurementId: string; value: number; replaces: number | null }
    | { kind: 'mark'; mark: Mark['mark'] }
    /** Nothing becomes of it: a value that is recorded already stays. */
    | { kind: 'blank' }
    | { kind: 'not-a-number' }
    | { kind: 'not-a-mark' }
    /** The row's pot is unknown or named twice; see `rows`. */
    | { kind: 'no-pot' };
}

/** A row that could not be given to one pot. */
export interface RowReport {
  line: number;
  code: string;
  problem: 'no-code' | 'unknown-code' | 'code-twice' | 'code-of-several-pots';
}

/** A table held against the plan, before anything is taken over. Every cell is accounted for. */
export interface TablePreview {
  columns: { name: string; use: ColumnUse }[];
  /** Why nothing can be taken over yet; null: it can. */
  problem: string | null;
  cells: CellReport[];
  rows: RowReport[];
  /** Measured pots that no row names. */
  missingPots: Pot[];
}

/**
 * Holds a table against the plan. `uses` overrules what is guessed from the column names, by
 * column. Codes are matched without regard to case, dash and spaces.
 */
export function matchTable(
  plan: Plan,
  table: TextTable,
  uses: Readonly<Record<number, ColumnUse>> = {},
): TablePreview {
  const find = codeBook(plan);
  const known = (column: number) =>
    table.rows.filter((row) => find(row.cells[column] ?? '') !== undefined).length;
  const guessed = guessColumns(plan, table.columns, known);
  const columns = table.columns.map((name, i) => ({
    name,
    use: uses[i] ?? guessed[i] ?? { use: 'nothing' },
  }));
  const problem = faultOf(columns);
  const potColumn = columns.findIndex(({ use }) => use.use === 'pot');
  if (potColumn < 0) return { columns, problem, cells: [], rows: [], missingPots: [] };

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
    if (written === '') rowProblem = 'no-code';
    else if (match === undefined) rowProblem = 'unknown-code';
    else if (match === 'several') rowProblem = 'code-of-several-pots';
    else if ((count.get(match) ?? 0) > 1) rowProblem = 'code-twice';
    if (rowProblem !== null) rows.push({ line: row.line, code: written, problem: rowProblem });
    for (const [column, { use }] of columns.entries()) {
      const outcome = outcomeOf(
        plan,
        use,
        row.cells[column] ?? '',
        rowProblem === null ? (pot ?? null) : null,
        table.decimal,
      );
      if (!outcome) continue;
      const text = row.cells[column] ?? '';
      const place = { line: row.line, column, text };
      cells.push({ ...place, potId: pot?.id ?? null, code: pot?.code ?? written, outcome });
    }
  }
  const missingPots = measuredPots(plan).filter((pot) => !named.has(pot.id));
  return { columns, problem, cells, rows, missingPots };
}

function faultOf(columns: TablePreview['columns']): string | null {
  const potColumns = columns.filter(({ use }) => use.use === 'pot');
  if (potColumns.length === 0) return 'No column holds the codes of the pots.';
  if (potColumns.length > 1) {
    return `${potColumns.map(({ name }) => name).join(' and ')} are both taken for the pots.`;
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
  decimal: DecimalMark,
): CellReport['outcome'] | null {
  if (use.use !== 'measurement' && use.use !== 'mark') return null;
  if (isBlank(text)) return { kind: 'blank' };
  if (!pot) return { kind: 'no-pot' };
  if (use.use === 'mark') {
    const mark = markSchema.shape.mark.safeParse(text.trim().toLowerCase());
    return mark.success ? { kind: 'mark', mark: mark.data } : { kind: 'not-a-mark' };
  }
  return valueOutcome(plan, use.measurementId, text, pot.id, decimal);
}

/** What becomes of a cell that should hold a value of a measurement for a pot. */
export function valueOutcome(
  plan: Plan,
  measurementId: string,
  text: string,
  potId: string,
  decimal: DecimalMark,
): CellReport['outcome'] {
  const value = readNumber(text, decimal);
  if (value === null) return { kind: 'not-a-number' };
  const measurement = plan.trial?.measurements.find((m) => m.id === measurementId);
  const kind = measurement && !inRange(measurement, value) ? 'out-of-range' : 'value';
  const replaces = plan.records.values[measurementId]?.[potId] ?? null;
  return { kind, measurementId, value, replaces };
}

/** Whether a value lies within the bounds the person set for its measurement. */
export function inRange({ lowest, highest }: Measurement, value: number): boolean {
  return (lowest === null || value >= lowest) && (highest === null || value <= highest);
}

/**
 * What a preview would put into the records, for the command `importValues`. Values out of range
 * come along only where the person has looked at them and says so.
 */
export function toValues(
  preview: Pick<TablePreview, 'cells' | 'problem'>,
  withOutOfRange: boolean,
): {
  values: { measurementId: string; potId: string; value: number }[];
  marks: { potId: string; mark: Mark['mark'] }[];
} {
  const values: { measurementId: string; potId: string; value: number }[] = [];
  const marks: { potId: string; mark: Mark['mark'] }[] = [];
  if (preview.problem !== null) return { values, marks };
  for (const { potId, outcome } of preview.cells) {
    if (potId === null) continue;
    if (outcome.kind === 'mark') marks.push({ potId, mark: outcome.mark });
    if (outcome.kind === 'value' || (outcome.kind === 'out-of-range' && withOutOfRange)) {
      const { measurementId, value } = outcome;
      values.push({ measurementId, potId, value });
    }
  }
  return { values, marks };
}
