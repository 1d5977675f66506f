import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { measurementHead } from '../queries/names';
import { hasSeveralRuns } from '../runs';
import { unitInHead } from './unitFactor';

/** What a column can be besides a measurement; each with its words beside it. */
export const columnParts = [
  ...(['pot', 'shelf', 'tray', 'row', 'column', 'plant'] as const),
  ...(['mark', 'note', 'date', 'run'] as const),
] as const;
export type ColumnPart = (typeof columnParts)[number];

export const columnPartWords: Record<ColumnPart, string> = {
  pot: 'pot code',
  shelf: 'shelf number',
  tray: 'tray',
  row: 'row in the tray',
  column: 'column in the tray',
  plant: 'plant code',
  mark: 'dead or missing',
  note: 'note on the pot',
  date: 'day of the values',
  run: 'run',
};

/** What a column of a table is taken for. */
export type ColumnUse =
  /** `run`: which run of the trial each line is of. */
  | { use: ColumnPart }
  /** `unit`: of its numbers, where the head names it. */
  | { use: 'measurement'; measurementId: string; unit?: string }
  /** Its name fits several measurements; a date, or the person, has to say which. */
  | { use: 'ambiguous'; measurementIds: string[]; unit?: string }
  | { use: 'nothing' };

/** A name without regard to case and marks. */
export const plainName = (text: string) =>
  text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

/** How the parts are called at the head of a column, in English and in German. */
const PART_NAMES: Record<ColumnPart, readonly string[]> = {
  pot: [
    'pot',
    'code',
    'pot code',
    'pot id',
    'pot no',
    'pot number',
    'label',
    'topf',
    'topfcode',
    'topf code',
    'topf nr',
    'topfnummer',
    'etikett',
  ],
  shelf: ['shelf', 'shelf no', 'level', 'tier', 'regal', 'regalboden', 'ebene', 'etage'],
  tray: ['tray', 'tub', 'tray no', 'schale', 'wanne', 'tablett', 'untersetzer'],
  row: ['row', 'row no', 'reihe', 'zeile'],
  column: ['column', 'col', 'column no', 'spalte'],
  plant: ['plant', 'plant code', 'plant no', 'plant id', 'pflanze', 'pflanzen nr'],
  mark: ['mark', 'marks', 'status', 'state', 'zustand'],
  note: [
    'note',
    'notes',
    'remark',
    'remarks',
    'comment',
    'comments',
    'bemerkung',
    'bemerkungen',
    'anmerkung',
    'notiz',
    'kommentar',
  ],
  date: ['date', 'day', 'taken on', 'weighed on', 'measured on', 'datum', 'tag', 'gemessen am'],
  run: ['run'],
};

/** The part that a head's own words name. */
export const partNamed = (header: string): ColumnPart | undefined => {
  const name = plainName(header);
  return columnParts.find((part) => PART_NAMES[part].includes(name));
};

/** Ways to write a measurement at the head of a column, the most telling first. */
function spellings(measurement: Measurement): string[][] {
  const { id, name, unit, timepoint, date } = measurement;
  const label = measurementHead(measurement);
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

/** The use that a person's words for a column stand for; null: they name nothing that it can be. */
export function saidUse(plan: Plan, words: string, unit?: string): ColumnUse | null {
  const said = plainName(words);
  if (said === 'nothing' || said === 'not used') return { use: 'nothing' };
  const part = columnParts.find((one) => one === said || plainName(columnPartWords[one]) === said);
  if (part) return { use: part };
  const named = namedUse(plan, words);
  if (named.use === 'nothing') return null;
  return unit !== undefined && (named.use === 'measurement' || named.use === 'ambiguous')
    ? { ...named, unit }
    : named;
}

/** The use that a head's own words speak for. */
function namedUse(plan: Plan, header: string): ColumnUse {
  const ofMeasurement = (name: string, unit?: string): ColumnUse | null => {
    const [first, ...others] = measurementsNamed(name, plan.trial?.measurements ?? []);
    const of = unit === undefined ? {} : { unit };
    if (first === undefined) return null;
    return others.length === 0
      ? { use: 'measurement', measurementId: first, ...of }
      : { use: 'ambiguous', measurementIds: [first, ...others], ...of };
  };
  const part = partNamed(header);
  if (part === 'pot') return { use: part };
  const whole = ofMeasurement(header);
  if (whole) return whole;
  const parts = unitInHead(header);
  const named = parts && ofMeasurement(parts.name, parts.unit);
  if (named) return named;
  const runs = part !== 'run' || hasSeveralRuns(plan);
  return part !== undefined && runs && !isFactor(plan, header) ? { use: part } : { use: 'nothing' };
}

const isFactor = (plan: Plan, header: string): boolean =>
  plan.trial?.factors.some((factor) => plainName(factor.name) === plainName(header)) === true;

/** Names of the columns that tell where a pot stands and what it holds. */
export const potColumnNames: ReadonlySet<string> = new Set(
  (['pot', 'shelf', 'tray', 'row', 'column', 'plant'] as const).flatMap((part) => PART_NAMES[part]),
);

/** Heads of columns that tell nothing to be recorded, as tables of this program carry them. */
export const isOwnHead = (plan: Plan, header: string): boolean =>
  ['block', 'treatment', 'unit'].includes(plainName(header)) || isFactor(plan, header);

const PLACE: readonly ColumnPart[] = ['shelf', 'tray', 'row', 'column', 'plant'];

/**
 * Guesses from their names what the columns hold. Where none is called pot, their pots are told by
 * shelf, tray, row and column where all that is needed is there, else by the one with the most known
 * pot codes, else by the code of the plant. What a column is not taken for is said, too: `nothing`.
 */
export function guessColumns(
  plan: Plan,
  columns: readonly string[],
  knownCodes: (column: number) => number,
): ColumnUse[] {
  const uses = columns.map((header) => namedUse(plan, header));
  const has = (part: ColumnPart) => uses.some(({ use }) => use === part);
  const without = (parts: readonly string[]) =>
    uses.map((use): ColumnUse => (parts.includes(use.use) ? { use: 'nothing' } : use));
  if (has('pot')) return without(PLACE);
  if (has('tray') && has('row') && has('column')) return without(['plant']);
  let best = -1;
  let most = 0;
  for (const [column, { use }] of uses.entries()) {
    const known = use === 'nothing' ? knownCodes(column) : 0;
    if (known > most) [best, most] = [column, known];
  }
  if (best < 0) return has('plant') ? without(['shelf', 'tray', 'row', 'column']) : uses;
  return without(PLACE).map((use, column) => (column === best ? { use: 'pot' } : use));
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
  pot: PART_NAMES.pot,
  measurement: ['measurement', 'variable', 'trait', 'messgröße', 'messgroesse', 'merkmal'],
  // Tables of the first plan format call it a moment.
  timepoint: ['timepoint', 'moment'],
  date: ['date', 'datum'],
  takenOn: ['taken on'],
  value: ['value', 'wert', 'messwert'],
  unit: ['unit', 'einheit'],
  second: ['second entry'],
  mark: ['mark', 'marks', 'status'],
  markDate: ['mark date'],
  markReason: ['mark reason'],
  secondMark: ['second mark'],
  secondMarkDate: ['second mark date'],
  secondMarkReason: ['second mark reason'],
  note: ['note', 'bemerkung'],
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
