import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import { measurementLabel } from '../queries/names';
import { hasSeveralRuns } from '../runs';

/** What a column of a table is taken for. */
export type ColumnUse =
  | { use: 'pot' }
  | { use: 'mark' }
  /** Which run of the trial each line is of. */
  | { use: 'run' }
  | { use: 'measurement'; measurementId: string }
  /** Its name fits several measurements; the person has to say which. */
  | { use: 'ambiguous'; measurementIds: string[] }
  | { use: 'nothing' };

/** A name without regard to case and marks. */
export const plainName = (text: string) =>
  text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

const potNames = new Set(['pot', 'code', 'pot code', 'pot id']);
const markNames = new Set(['mark', 'marks', 'status']);

/** Ways to write a measurement at the head of a column, the most telling first. */
function spellings(measurement: Measurement): string[][] {
  const { id, name, unit, timepoint, date } = measurement;
  const label = measurementLabel(measurement);
  const exact = [id, label, `${label} ${unit}`, `${name} ${timepoint}`, `${timepoint} ${name}`];
  if (date !== null) exact.push(`${name} ${date}`, `${label} ${date}`, `${label} ${date} ${unit}`);
  return [exact, [name, `${name} ${unit}`], [timepoint, `${timepoint} ${unit}`]];
}

/** The measurements that a column's name speaks for: one, several or none. */
function measurementsNamed(header: string, measurements: readonly Measurement[]): string[] {
  const name = plainName(header);
  for (let rank = 0; rank < 3; rank++) {
    const named = measurements.filter((measurement) =>
      (spellings(measurement)[rank] ?? []).some((spelling) => plainName(spelling) === name),
    );
    if (named.length > 0) return named.map((measurement) => measurement.id);
  }
  return [];
}

/**
 * Guesses from their names what the columns hold. Where no column is called pot, the one with the
 * most known pot codes is it. What a column is not taken for is said, too: `nothing`.
 */
export function guessColumns(
  plan: Plan,
  columns: readonly string[],
  knownCodes: (column: number) => number,
): ColumnUse[] {
  const measurements = plan.trial?.measurements ?? [];
  const uses = columns.map((header): ColumnUse => {
    const name = plainName(header);
    if (potNames.has(name)) return { use: 'pot' };
    const [first, ...others] = measurementsNamed(header, measurements);
    if (first !== undefined) {
      return others.length === 0
        ? { use: 'measurement', measurementId: first }
        : { use: 'ambiguous', measurementIds: [first, ...others] };
    }
    if (name === RUN_COLUMN && hasSeveralRuns(plan)) return { use: 'run' };
    return markNames.has(name) ? { use: 'mark' } : { use: 'nothing' };
  });
  if (uses.some(({ use }) => use === 'pot')) return uses;
  let best = -1;
  let most = 0;
  for (const [column, { use }] of uses.entries()) {
    const known = use === 'nothing' ? knownCodes(column) : 0;
    if (known > most) [best, most] = [column, known];
  }
  return uses.map((use, column) => (column === best ? { use: 'pot' } : use));
}

/** The name of the column that tells runs apart, where a trial has several. */
export const RUN_COLUMN = 'run';

const LONG_USES = [
  'run',
  ...(['pot', 'measurement', 'timepoint', 'date', 'takenOn', 'value', 'unit', 'second'] as const),
  ...(['mark', 'markDate', 'markReason'] as const),
  ...(['secondMark', 'secondMarkDate', 'secondMarkReason', 'note', 'files'] as const),
] as const;
export type LongUse = (typeof LONG_USES)[number];

/** What the columns of a long table hold, by their names. */
const LONG_NAMES: Readonly<Record<LongUse, readonly string[]>> = {
  run: [RUN_COLUMN],
  pot: ['pot', 'code', 'pot code', 'pot id'],
  measurement: ['measurement'],
  // Tables of the first plan format call it a moment.
  timepoint: ['timepoint', 'moment'],
  date: ['date'],
  takenOn: ['taken on'],
  value: ['value'],
  unit: ['unit'],
  second: ['second entry'],
  mark: ['mark', 'marks', 'status'],
  markDate: ['mark date'],
  markReason: ['mark reason'],
  secondMark: ['second mark'],
  secondMarkDate: ['second mark date'],
  secondMarkReason: ['second mark reason'],
  note: ['note'],
  files: ['files'],
};
/** The columns, counted from 0, where the table has them. */
export type LongColumns = Partial<Record<LongUse, number>>;

/**
 * The columns of a table with a line for every pot and measurement; null: it is no such table.
 * Where a factor of the plan is called as one of them is, ours goes out with a 2 behind its name.
 */
export function longColumns(plan: Plan, columns: readonly string[]): LongColumns | null {
  const names = columns.map(plainName);
  const factors = new Set(plan.trial?.factors.map((factor) => plainName(factor.name)));
  const found: LongColumns = {};
  for (const use of LONG_USES) {
    if (use === 'run' && !hasSeveralRuns(plan)) continue;
    const spellings = LONG_NAMES[use];
    const wanted =
      use === 'pot' || use === 'run'
        ? spellings
        : spellings.map((s) => (factors.has(s) ? `${s} 2` : s));
    const at = names.findIndex((name) => wanted.includes(name));
    if (at >= 0) found[use] = at;
  }
  const { pot, measurement, value } = found;
  return pot === undefined || measurement === undefined || value === undefined ? null : found;
}
