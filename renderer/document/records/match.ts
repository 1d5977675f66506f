import { dateOf, daysBetween } from '../../engine/calendar';
import type { Pot } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import { dateSchema } from '../../../shared-types/basics';
import type { PotNote } from '../../../shared-types/records';
import { potsToMeasure } from '../queries/records';
import { codeBook, labelBook } from './codeBook';
import { markIn } from './marks';
import { placeCode } from './placeCode';
import { numberAndUnit } from './unitFactor';
import { unknownCode } from './runCode';
import { linesByRun } from './tableRuns';
import { columnParts, columnPartWords, guessColumns, longColumns, partNamed } from './columns';
import type { ColumnPart, ColumnUse } from './columns';
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
    use: unrecorded(plan, uses[i] ?? guessed[i] ?? { use: 'nothing' }, table),
  }));
  const at = (part: ColumnPart): number => columns.findIndex(({ use }) => use.use === part);
  const problem = faultOf(columns);
  const styles = columns.map(({ use }, i) =>
    isMeasured(use) ? styleOf(table, (row) => row.cells[i]) : null,
  );
  const shown = styleOf(table, (row) =>
    columns.flatMap(({ use }, i) => (isMeasured(use) ? [row.cells[i] ?? ''] : [])),
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
        : outcomeOf(plan, use, text, rowProblem === null ? (pot ?? null) : null, {
            style: styles[column] ?? shown,
            day,
          });
      if (!outcome) continue;
      cells.push({
        ...{ line: row.line, column, text, potId: pot?.id ?? null, code: pot?.code ?? code },
        outcome,
      });
    }
  }
  if (dateColumn >= 0) refuseTwice(cells);
  const missingPots = potsToMeasure(plan).filter((pot) => !named.has(pot.id));
  return { ...preview, cells, rows, missingPots };
}

/**
 * Of several measurements of one name, the only one that is still to be recorded: where every other has
 * all its values, and no line of the table bears a day of its own.
 */
function unrecorded(plan: Plan, use: ColumnUse, { columns }: TextTable): ColumnUse {
  if (use.use !== 'ambiguous' || columns.some((name) => partNamed(name) === 'date')) return use;
  const pots = potsToMeasure(plan);
  const recorded = (id: string) =>
    pots.filter((pot) => plan.records.values[id]?.[pot.id] !== undefined).length;
  const [open, ...others] = use.measurementIds.filter((id) => recorded(id) < pots.length);
  if (open === undefined || others.length > 0 || recorded(open) > 0) return use;
  const { measurementIds: _all, ...of } = use;
  return { ...of, use: 'measurement', measurementId: open };
}

const isMeasured = ({ use }: ColumnUse): boolean => use === 'measurement' || use === 'ambiguous';

/** The style of some cells, whose numbers may bear units. */
function styleOf(
  table: TextTable,
  cellsOf: (row: TextTable['rows'][number]) => string | readonly string[] | undefined,
): NumberStyle {
  const texts = table.rows.flatMap((row) => cellsOf(row) ?? '');
  return numberStyle(
    table.decimalStated ? table.decimal : null,
    texts.map((text) => numberAndUnit(text.trim()).digits || text),
  );
}

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

/** Where lines are told apart by their day, each may give each measurement of a pot once. */
function refuseTwice(cells: readonly CellReport[]): void {
  const known = new Map<string, CellReport[]>();
  for (const cell of cells) {
    const { outcome, potId } = cell;
    if (outcome.kind !== 'value' && outcome.kind !== 'out-of-range') continue;
    const key = `${outcome.measurementId} ${potId}`;
    known.set(key, [...(known.get(key) ?? []), cell]);
  }
  for (const list of known.values()) {
    if (list.length > 1) for (const cell of list) cell.outcome = { kind: 'twice' };
  }
}

const mergedOutcome = (use: ColumnUse): CellOutcome | null =>
  isMeasured(use) || use.use === 'mark' ? { kind: 'merged' } : null;

function faultOf(columns: readonly { name: string; use: ColumnUse }[]): string | null {
  if (columns.length === 1)
    return 'The table has one column only; choose what separates its columns.';
  for (const part of columnParts) {
    const both = columns.filter(({ use }) => use.use === part);
    if (both.length > 1) {
      return `${list(both.map(({ name }) => name))} are ${both.length > 2 ? 'all' : 'both'} taken for the ${columnPartWords[part]}.`;
    }
  }
  const has = (part: ColumnPart) => columns.some(({ use }) => use.use === part);
  if (!has('pot') && !has('plant') && !(has('tray') && has('row') && has('column'))) {
    return 'No column holds the codes of the pots, and none tray, row and column.';
  }
  const seen = new Map<string, string>();
  for (const { name, use } of columns) {
    if (use.use === 'ambiguous' && !has('date')) {
      return `Say which measurement the column ${name} holds.`;
    }
    if (use.use !== 'measurement') continue;
    const other = seen.get(use.measurementId);
    if (other !== undefined) return `${other} and ${name} are taken for the same measurement.`;
    seen.set(use.measurementId, name);
  }
  const useful = columns.some(
    ({ use }) => isMeasured(use) || use.use === 'mark' || use.use === 'note',
  );
  return useful ? null : 'No column holds a measurement of the trial.';
}

function outcomeOf(
  plan: Plan,
  use: ColumnUse,
  text: string,
  pot: Pot | null,
  { style, day }: { style: NumberStyle; day: string },
): CellOutcome | null {
  const { use: kind } = use;
  switch (kind) {
    case 'nothing':
    case 'pot':
    case 'shelf':
    case 'tray':
    case 'row':
    case 'column':
    case 'plant':
    case 'run':
      return null;
    case 'date': {
      const fine = isBlank(text) || dateSchema.safeParse(text.trim()).success;
      return fine ? null : { kind: 'not-a-date' };
    }
    case 'mark':
    case 'note':
    case 'measurement':
    case 'ambiguous':
      break;
    default:
      return kind satisfies never;
  }
  if (isBlank(text)) return { kind: 'blank' };
  if (!pot) return { kind: 'no-pot' };
  if (kind === 'mark') {
    const mark = markIn(text);
    return mark ? { kind: 'mark', mark } : { kind: 'not-a-mark' };
  }
  if (kind === 'note') {
    return { kind: 'note', note: withNote(plan.records.notes?.[pot.id], text.trim()) };
  }
  if (use.use !== 'measurement' && use.use !== 'ambiguous') return null;
  const id =
    use.use === 'measurement' ? use.measurementId : measurementOn(plan, use.measurementIds, day);
  if (id === null) return { kind: 'several-measurements' };
  return dated(plan, id, day, valueOutcome(plan, id, text, pot.id, style, false, use.unit));
}

/** A value taken on another day than its measurement's bears it. */
function dated(plan: Plan, id: string, day: string, outcome: CellOutcome): CellOutcome {
  const isValue = outcome.kind === 'value' || outcome.kind === 'out-of-range';
  const measurement = plan.trial?.measurements.find((m) => m.id === id);
  const own = plan.trial && measurement ? dateOf(plan.trial, measurement) : null;
  return isValue && day !== own && dateSchema.safeParse(day).success
    ? { ...outcome, day }
    : outcome;
}

/** A measurement may take several days; a line further off than these is of none. */
const MOST_DAYS_OFF = 3;

/** Of several measurements that of a day: its own, else the nearest by a few days; null: none. */
function measurementOn(plan: Plan, ids: readonly string[], day: string): string | null {
  if (!dateSchema.safeParse(day).success) return null;
  const { trial } = plan;
  if (!trial) return null;
  const off = trial.measurements
    .flatMap((measurement) => {
      const date = ids.includes(measurement.id) ? dateOf(trial, measurement) : null;
      return date === null ? [] : [{ id: measurement.id, days: Math.abs(daysBetween(date, day)) }];
    })
    .sort((one, other) => one.days - other.days);
  const [nearest, next] = off;
  if (!nearest || nearest.days > MOST_DAYS_OFF || next?.days === nearest.days) return null;
  return nearest.id;
}

/** A note of the table stands behind what has been noted before. */
function withNote(was: PotNote | undefined, text: string): PotNote {
  if (!was || was.text === '') return { text, files: [...(was?.files ?? [])] };
  return was.text.includes(text) ? was : { ...was, text: `${was.text}; ${text}` };
}
