import type { Plan } from '../../../shared-types/plan';
import type { EntryAct, Records, Trail } from '../../../shared-types/records';
import { changedKeys } from '../changedKeys';
import { change } from '../edit';

/** A value that one act wrote or took away. */
interface Changed {
  measurementId: string;
  potId: string;
  was: number | undefined;
  is: number | undefined;
  second: boolean;
}

/** Notes for every value, mark and note in which two states of the records differ when and by whom. */
export function withTrail(before: Plan, after: Plan, act: EntryAct): Plan {
  const changed = [
    ...changesIn(before.records.values, after.records.values, false),
    ...changesIn(before.records.second, after.records.second, true),
  ];
  const marks = [
    ...statesChanged(before.records.marks, after.records.marks, false),
    ...statesChanged(before.records.secondMarks, after.records.secondMarks, true),
  ];
  const notes = statesChanged(before.records.notes, after.records.notes, false);
  if (changed.length + marks.length + notes.length === 0) return after;
  return change(after, ({ records }) => {
    const trail = (records.trail ??= { acts: [], entered: {}, replaced: [] });
    const now = numberOf(trail, act);
    if (marks.length > 0) noteStates((trail.marks ??= []), marks, now);
    if (notes.length > 0) noteStates((trail.notes ??= []), notes, now);
    for (const { measurementId, potId, was, is, second } of changed) {
      const entered = second ? (trail.enteredSecond ??= {}) : trail.entered;
      const byPot = (entered[measurementId] ??= {});
      const since = byPot[potId];
      if (was !== undefined) {
        trail.replaced.push({
          measurementId,
          potId,
          was,
          act: now,
          ...(since === undefined ? {} : { entered: since }),
          ...(second ? { second: true } : {}),
        });
      }
      if (is !== undefined) byPot[potId] = now;
      else Reflect.deleteProperty(byPot, potId);
    }
  });
}

interface StateChange<State> {
  potId: string;
  was: State | null;
  second?: true | undefined;
}

function statesChanged<State extends object>(
  was: Readonly<Record<string, State>> = {},
  is: Readonly<Record<string, State>> = {},
  second: boolean,
): StateChange<State>[] {
  if (was === is) return [];
  const ids = new Set([...Object.keys(was), ...Object.keys(is)]);
  return [...ids].flatMap((potId) => {
    const [one = null, other = null] = [was[potId], is[potId]];
    if (one === other || JSON.stringify(one) === JSON.stringify(other)) return [];
    return [{ potId, was: one, ...(second ? { second: true as const } : {}) }];
  });
}

/** What one person writes of a pot within a minute, such as state, day and reason, is one change. */
function noteStates<State>(
  list: (StateChange<State> & { act: number })[],
  changes: readonly StateChange<State>[],
  act: number,
): void {
  const ofAct = new Set(
    list.filter((one) => one.act === act).map(({ potId, second }) => `${potId} ${second}`),
  );
  for (const one of changes) {
    if (!ofAct.has(`${one.potId} ${one.second}`)) list.push({ ...one, act });
  }
}

/** The number of an act; what one person does within a minute is one act. */
function numberOf({ acts }: Trail, { at, by }: EntryAct): number {
  const last = acts.at(-1);
  if (last?.at !== at || last.by !== by) acts.push({ at, ...(by === undefined ? {} : { by }) });
  return acts.length - 1;
}

function changesIn(
  before: Records['values'],
  after: Records['values'],
  second: boolean,
): Changed[] {
  const ids = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...ids].flatMap((measurementId) => {
    const [was = NONE, is = NONE] = [before[measurementId], after[measurementId]];
    if (was === is) return [];
    return changedKeys(was, is).map((potId) => ({
      measurementId,
      potId,
      was: was[potId],
      is: is[potId],
      second,
    }));
  });
}

const NONE: Readonly<Record<string, number>> = Object.freeze({});

/** Values that move with their plants keep what is known of them. Changes a draft. */
export function exchangeTrail(
  { trail }: Records,
  a: string,
  b: string,
  exchange: (byPot: Record<string, number>, a: string, b: string) => void,
): void {
  if (!trail) return;
  for (const entered of [trail.entered, trail.enteredSecond ?? {}]) {
    for (const byPot of Object.values(entered)) exchange(byPot, a, b);
  }
  for (const one of [...trail.replaced, ...(trail.marks ?? []), ...(trail.notes ?? [])]) {
    if (one.potId === a) one.potId = b;
    else if (one.potId === b) one.potId = a;
  }
}

/** A measurement that goes takes what is known of its values with it. Changes a draft. */
export function forgetTrail({ trail }: Records, measurementId: string): void {
  if (!trail) return;
  Reflect.deleteProperty(trail.entered, measurementId);
  if (trail.enteredSecond) Reflect.deleteProperty(trail.enteredSecond, measurementId);
  trail.replaced = trail.replaced.filter((one) => one.measurementId !== measurementId);
}
