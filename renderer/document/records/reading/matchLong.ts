import type { Plan } from '../../../../shared-types/plan';
import { numberStyle } from '../../../tables';
import type { TextTable } from '../../../tables';
import { potsToMeasure } from '../../queries/records';
import { codeBook } from '../codes/codeBook';
import { unknownCode } from '../codes/runCode';
import type { LongColumns, LongUse } from '../columns';
import { longLine, lostCells, stateCells, valueCells } from './longLine';
import { measurementFinder } from './measurementFinder';
import type { CellOutcome, CellReport, RowReport, TablePreview } from './outcome';

/**
 * Holds a long table against the plan: one line a pot and measurement, told apart by name, timepoint
 * and, where that is not enough, date. A date that is not the measurement's is the day on which the
 * value was taken, where no column of its own says it. Mark and note of a pot may stand on each of its lines; where
 * they differ, none is taken.
 */
export function matchLong(
  plan: Plan,
  table: TextTable,
  at: LongColumns,
): Omit<TablePreview, 'otherRuns'> {
  const style = numberStyle(
    table.decimalStated ? table.decimal : null,
    table.rows
      .map((row) => longLine(row, at, undefined))
      .flatMap(({ cell }) => [cell('value'), cell('second')]),
  );
  const find = codeBook(plan);
  const measurementOf = measurementFinder(plan.trial?.measurements ?? []);
  const rows: RowReport[] = [];
  const cells: CellReport[] = [];
  const named = new Set<string>();
  // The first line that spoke of a measurement of a pot, and of the state of a pot.
  const values = new Map<string, CellReport[]>();
  const states = new Map<string, CellReport[]>();

  for (const row of table.rows) {
    const code = longLine(row, at, undefined).cell('pot').trim();
    const match = find(code);
    const pot = match === 'several' ? undefined : match;
    if (pot) named.add(pot.id);
    const line = longLine(row, at, pot);
    const problem = row.line === table.cutLine ? 'cut-off' : codeProblem(code, match);
    if (problem !== null) rows.push({ line: row.line, code, problem });
    if (problem !== null || !pot) {
      cells.push(...lostCells(line));
      continue;
    }
    const what = measurementOf(...MEASUREMENT_CELLS.map(line.cell));
    const ofValues = valueCells(plan, line, what, pot, style);
    const ofState = stateCells(line, at);
    cells.push(...ofValues.days, ...ofValues.values, ...ofState);
    if (typeof what !== 'string') gather(values, `${what.id} ${pot.id}`, ofValues.values);
    for (const one of ofState)
      gather(states, `${one.outcome.kind} ${one.column === at.secondMark} ${pot.id}`, [one]);
  }
  for (const list of values.values()) if (isTwice(list)) refuse(list, { kind: 'twice' });
  for (const list of states.values()) if (differ(list)) refuse(list, { kind: 'differs' });
  const missingPots = potsToMeasure(plan).filter((pot) => !named.has(pot.id));
  const columns = longColumns(table, at);
  return { form: 'long', decimal: style.decimal, columns, problem: null, cells, rows, missingPots };
}

const MEASUREMENT_CELLS = ['measurement', 'timepoint', 'date', 'unit'] as const;

function longColumns(table: TextTable, at: LongColumns): TablePreview['columns'] {
  const uses = new Map(Object.entries(at).map(([use, column]) => [column, use as LongUse]));
  return table.columns.map((name, i) => {
    const part = uses.get(i);
    return { name, use: part ? { use: 'long', part } : { use: 'nothing' } };
  });
}

/** Why a code names no pot, or not one alone; null: it names one. */
function codeProblem(
  code: string,
  match: ReturnType<ReturnType<typeof codeBook>>,
): RowReport['problem'] | null {
  if (code === '') return 'no-code';
  if (match === undefined) return unknownCode(code);
  return match === 'several' ? 'code-of-several-pots' : null;
}

function gather(lists: Map<string, CellReport[]>, key: string, reports: CellReport[]): void {
  const list = lists.get(key);
  if (list) list.push(...reports);
  else lists.set(key, [...reports]);
}

/** More than one line speaks of this measurement of this pot, and not only with empty cells. */
function isTwice(list: readonly CellReport[]): boolean {
  const filled = list.filter(({ outcome }) => outcome.kind !== 'blank');
  return new Set(filled.map(({ line }) => line)).size > 1;
}

function differ(list: readonly CellReport[]): boolean {
  return new Set(list.map(({ outcome }) => JSON.stringify(outcome))).size > 1;
}

function refuse(list: readonly CellReport[], outcome: CellOutcome): void {
  for (const report of list) if (report.outcome.kind !== 'blank') report.outcome = outcome;
}
