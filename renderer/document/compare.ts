import { potsOfRack } from '../engine/geometry';
import type { Plan } from '../../shared-types/plan';
import type { Run } from '../../shared-types/run';
import { hasRun, runName, runsOf, seenFrom, seenFromLast } from './runs';

/** One part of a plan in which two states of it differ, each said in a few words. */
export interface PlanDifference {
  readonly part: string;
  readonly mine: string;
  readonly theirs: string;
}

/** The format, and the other runs, which are compared one by one. */
type NotCompared = 'format' | 'version' | 'nextId' | 'runId' | 'earlierRuns' | 'laterRuns';

/** What is compared, by its name on screen; the format itself is not the person's work. */
const parts: Record<Exclude<keyof Plan, NotCompared>, string> = {
  title: 'Title',
  notes: 'Notes',
  display: 'Units shown',
  rack: 'Rack',
  light: 'Light',
  flood: 'Flood',
  trial: 'Trial',
  layout: 'Layout',
  plants: 'Plants',
  records: 'Records',
  swap: 'Swapped levels',
  acceptedNotices: 'Accepted notices',
  tableHeads: 'Heads of tables',
};

const sayings: Partial<Record<keyof typeof parts, (plan: Plan) => string>> = {
  title: (plan) => plan.title,
  display: (plan) => plan.display.lengths,
  rack: ({ rack }) => {
    const trays = rack.shelves.flatMap((shelf) => shelf.trays);
    const lamps = rack.shelves.flatMap((shelf) => shelf.lamps);
    return list([
      count(rack.shelves.length, 'shelf', 'shelves'),
      count(trays.length, 'tray'),
      count(potsOfRack(rack).length, 'pot'),
      count(lamps.length, 'lamp'),
    ]);
  },
  light: ({ light }) => count(light.readings.length, 'reading'),
  flood: ({ flood }) => (flood ? count(flood.zones.length, 'zone') : 'none'),
  trial: ({ trial }) =>
    trial
      ? `${count(trial.factors.length, 'factor')}, ${count(trial.measurements.length, 'measurement')}`
      : 'none',
  layout: ({ layout }) =>
    layout
      ? `drawn with seed “${layout.seed}”, ${count(layout.assignments.length, 'pot')}`
      : 'none',
  plants: ({ plants }) => count(plants?.length ?? 0, 'plant'),
  records: ({ records }) =>
    list([
      count(countValues(records.values), 'value'),
      count(countValues(records.second), 'second entry', 'second entries'),
      count(Object.keys(records.marks).length, 'mark'),
      count(records.incidents.length, 'log entry', 'log entries'),
      count(daysLogged(records), 'day of a unit logged', 'days of units logged'),
    ]),
  acceptedNotices: (plan) => count(plan.acceptedNotices.length, 'notice'),
};

/** The parts in which two plans differ, in the order of the file; none: they hold the same. */
export function comparePlans(here: Plan, there: Plan): PlanDifference[] {
  const [mine, theirs] = seenFromOne(here, there);
  const ofRun = (Object.keys(parts) as (keyof typeof parts)[]).flatMap((key) => {
    if (sameContent(mine[key], theirs[key])) return [];
    const say = sayings[key] ?? (() => 'changed');
    const [ours, others] = [say(mine), say(theirs)];
    const row = { part: parts[key], mine: ours, theirs: others };
    if (key === 'records') return [row, ...differentValues(mine, theirs)];
    return [unlike(row)];
  });
  return [...ofRun, ...otherRuns(mine, theirs)];
}

/** Both from the last run that both have, so that like is held against like. */
function seenFromOne(here: Plan, there: Plan): [Plan, Plan] {
  const common = runsOf(here).findLast(({ id }) => hasRun(there, id));
  return common
    ? [seenFrom(here, common.id), seenFrom(there, common.id)]
    : [seenFromLast(here), seenFromLast(there)];
}

/** A row for every other run that differs, or that one of the two does not have. */
function otherRuns(mine: Plan, theirs: Plan): PlanDifference[] {
  const [ours, others] = [runsOf(mine), runsOf(theirs)];
  const ids = new Set([...ours, ...others].map(({ id }) => id));
  if (mine.runId === theirs.runId) ids.delete(mine.runId);
  return [...ids].flatMap((id) => {
    const [our, other] = [ours, others].map((runs) => runs.find((run) => run.id === id));
    if (sameContent(our, other)) return [];
    const part = runName(our ? mine : theirs, id);
    return [unlike({ part, mine: sayRun(our), theirs: sayRun(other) })];
  });
}

const unlike = (row: PlanDifference): PlanDifference =>
  row.mine === row.theirs ? { ...row, theirs: `${row.theirs}, but not the same` } : row;

function sayRun(run: Run | undefined): string {
  if (!run) return 'none';
  const { layout, records } = run;
  const drawn = layout ? `drawn with seed “${layout.seed}”` : 'not drawn';
  return `${drawn}, ${count(countValues(records.values), 'value')}`;
}

/** How many values a plan holds, all runs and measurements together, without second entries. */
export function valuesIn(plan: Plan): number {
  return runsOf(plan).reduce((sum, { records }) => sum + countValues(records.values), 0);
}

/** How many pots its rack holds. */
export function potsIn(plan: Plan): number {
  return potsOfRack(plan.rack).length;
}

function differentValues(mine: Plan, theirs: Plan): PlanDifference[] {
  const [ours, others] = [flat(mine), flat(theirs)];
  let differing = 0;
  let onlyMine = 0;
  for (const [place, value] of ours) {
    const other = others.get(place);
    if (other === undefined) onlyMine += 1;
    else if (other !== value) differing += 1;
  }
  const onlyTheirs = others.size - (ours.size - onlyMine);
  const rows = [{ part: 'Values only here', mine: `${onlyMine}`, theirs: `${onlyTheirs}` }];
  if (differing > 0) {
    const said = `${count(differing, 'pot')} with another value`;
    rows.push({ part: 'Values that differ', mine: said, theirs: said });
  }
  return onlyMine + onlyTheirs + differing > 0 ? rows : [];
}

function flat({ records }: Plan): Map<string, number> {
  return new Map(
    Object.entries(records.values).flatMap(([measurement, values]) =>
      Object.entries(values).map(([pot, value]) => [`${measurement} ${pot}`, value] as const),
    ),
  );
}

function countValues(values: Plan['records']['values']): number {
  return Object.values(values).reduce((sum, of) => sum + Object.keys(of).length, 0);
}

const daysLogged = ({ delivered = {} }: Plan['records']): number =>
  Object.values(delivered).reduce((sum, byDay) => sum + Object.keys(byDay).length, 0);

function count(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

function list(words: readonly string[]): string {
  return words.filter((word) => !word.startsWith('0 ')).join(', ') || 'empty';
}

/** Equal as JSON: in whatever order the keys come; an absent key is one without a value. */
function sameContent(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [one, other] = [a as Record<string, unknown>, b as Record<string, unknown>];
  const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
  return [...keys].every((key) => sameContent(one[key], other[key]));
}
