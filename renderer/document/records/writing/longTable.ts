import type { Plan } from '../../../../shared-types/plan';
import { writeDelimited } from '../../../tables';
import type { CellOut, TableStyle } from '../../../tables';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import { dayTaken } from '../../queries/days';
import { entriesOfValue } from '../../queries/trail';
import { disagreements, potsToMeasure, measurementsInOrder } from '../../queries/records';
import { distinctNames, potCells, potColumnsOf } from './potColumns';

/** Between the paths in one cell. No path that a file system is likely to hold has it within. */
export const FILES_BETWEEN = ' | ';

/** Whether values were taken on other days than their measurements: then their days have a column. */
export const hasDays = ({ records }: Pick<Plan, 'records'>): boolean => records.days !== undefined;

/** Whether it is known when and by whom values were entered: then that has columns. */
export const hasTrail = ({ records }: Pick<Plan, 'records'>): boolean =>
  records.trail !== undefined;

/** The columns of the long table, in order. */
export function longColumnNames(plan: Plan, runs: readonly Plan[] = [plan]): string[] {
  return distinctNames([
    ...potColumnsOf(plan).map(({ name }) => name),
    'measurement',
    'timepoint',
    'date',
    ...(runs.some(hasDays) ? ['taken on'] : []),
    'value',
    'unit',
    'second entry',
    'entries',
    ...(runs.some(hasTrail) ? ['entered', 'entered by', 'replaces'] : []),
    'mark',
    'mark date',
    'mark reason',
    'second mark',
    'second mark date',
    'second mark reason',
    'note',
    'files',
  ]);
}

/**
 * All records in long form: one row for every measured pot and measurement, recorded or not, so
 * that every column is one variable and every row one observation. `runs` as for the wide table.
 */
export function recordsLongCsv(
  plan: Plan,
  style: TableStyle = {},
  runs: readonly Plan[] = [plan],
): string {
  const withDays = runs.some(hasDays);
  const withTrail = runs.some(hasTrail);
  const rows = runs.flatMap((seen) => linesOf(seen, withDays, withTrail));
  return writeDelimited([longColumnNames(plan, runs), ...rows], style);
}

function linesOf(plan: Plan, withDays: boolean, withTrail: boolean): CellOut[][] {
  const { values, second, marks, secondMarks = {}, notes } = plan.records;
  const measurements = measurementsInOrder(plan);
  const cellsOf = potCells(plan);
  const differing = differingEntries(plan);
  return potsToMeasure(plan).flatMap((pot) => {
    const about = cellsOf(pot);
    const mark = marks[pot.id];
    const again = secondMarks[pot.id];
    const note = notes?.[pot.id];
    const state = [
      mark?.mark ?? '',
      mark?.date ?? '',
      mark?.reason ?? '',
      again?.mark ?? '',
      again?.date ?? '',
      again?.reason ?? '',
      note?.text ?? '',
      note?.files.join(FILES_BETWEEN) ?? '',
    ];
    return measurements.map((m) => [
      ...about,
      m.name,
      m.timepoint,
      m.date ?? '',
      ...(withDays ? [dayOfValue(plan, m, pot.id)] : []),
      values[m.id]?.[pot.id] ?? null,
      m.unit,
      second[m.id]?.[pot.id] ?? null,
      entriesOf(plan, m.id, pot.id, differing),
      ...(withTrail ? trailOf(plan, m.id, pot.id) : []),
      ...state,
    ]);
  });
}

/** When and by whom the value was entered, and what it replaced, the latest first. */
function trailOf({ records }: Plan, measurementId: string, potId: string): CellOut[] {
  const entries = entriesOfValue(records, measurementId, potId);
  const last = entries.at(-1);
  const replaced = entries.slice(0, -1).flatMap(({ value }) => value ?? []);
  return [last?.act?.at ?? '', last?.act?.by ?? '', replaced.reverse().join(' | ')];
}

function dayOfValue(plan: Plan, measurement: Measurement, potId: string): string {
  const taken = plan.records.values[measurement.id]?.[potId] !== undefined;
  return (taken ? dayTaken(plan, measurement, potId) : null) ?? '';
}

/** Keys of what two people have entered differently and nobody has settled: of values and of states. */
function differingEntries(plan: Plan): ReadonlySet<string> {
  return new Set(
    disagreements(plan).map((one) =>
      one.kind === 'value' ? `${one.measurement.id} ${one.pot.id}` : one.pot.id,
    ),
  );
}

/** Whether two people say the same of a value and of the plant it is of; empty: one has said nothing. */
function entriesOf(
  { records }: Plan,
  measurementId: string,
  potId: string,
  differing: ReadonlySet<string>,
): string {
  if (differing.has(potId) || differing.has(`${measurementId} ${potId}`)) return 'differ';
  const { values, second, marks, secondMarks = {} } = records;
  const twice = [
    [values[measurementId]?.[potId], second[measurementId]?.[potId]],
    [marks[potId], secondMarks[potId]],
  ].some(([one, other]) => one !== undefined && other !== undefined);
  return twice ? 'agree' : '';
}
