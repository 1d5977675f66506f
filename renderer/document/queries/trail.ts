import type { EntryAct, Mark, PotNote, Records, Trail } from '../../../shared-types/records';
import { sayInstant } from '../../words';

/** One value that stood, or stands last, of one pot; null: it was cleared. */
export interface EnteredValue {
  value: number | null;
  /** null: entered before acts were kept. */
  act: EntryAct | null;
}

/** What was entered for one pot and measurement, the earliest first; none: nothing ever. */
export function entriesOfValue(
  { values, trail }: Pick<Records, 'values' | 'trail'>,
  measurementId: string,
  potId: string,
): EnteredValue[] {
  const now = values[measurementId]?.[potId];
  const since = trail?.entered[measurementId]?.[potId];
  const stood = (trail?.replaced ?? []).filter(
    (one) => one.measurementId === measurementId && one.potId === potId && !one.second,
  );
  const next = [...stood.slice(1).map(({ entered }) => entered), now === undefined ? null : since];
  return [
    ...stood.flatMap((one, i): EnteredValue[] => [
      { value: one.was, act: actOf(trail, one.entered) },
      ...(next[i] === one.act ? [] : [{ value: null, act: actOf(trail, one.act) }]),
    ]),
    ...(now === undefined ? [] : [{ value: now, act: actOf(trail, since) }]),
  ];
}

/** A mark or note as it stood, or stands last; null: none, a plant alive and without a note. */
export interface StateStood<State> {
  state: State | null;
  /** null: it stood before acts were kept. */
  act: EntryAct | null;
}

/** What was said of a pot's state, the earliest first; none: nothing since acts are kept. */
export const entriesOfMark = (
  { marks, trail }: Pick<Records, 'marks' | 'trail'>,
  potId: string,
): StateStood<Mark>[] => statesOf(trail, trail?.marks, marks, potId);

/** The same of its note. */
export const entriesOfNote = (
  { notes = {}, trail }: Pick<Records, 'notes' | 'trail'>,
  potId: string,
): StateStood<PotNote>[] => statesOf(trail, trail?.notes, notes, potId);

function statesOf<State>(
  trail: Trail | undefined,
  changes: readonly {
    potId: string;
    was: State | null;
    act: number;
    second?: true | undefined;
  }[] = [],
  now: Readonly<Record<string, State>>,
  potId: string,
): StateStood<State>[] {
  const own = changes.filter((one) => one.potId === potId && !one.second);
  const [first] = own;
  if (!first) return [];
  const after = own.map((one, i): StateStood<State> => {
    const next = own[i + 1];
    return { state: next ? next.was : (now[potId] ?? null), act: actOf(trail, one.act) };
  });
  return first.was === null ? after : [{ state: first.was, act: null }, ...after];
}

/** When and by whom the value that stands was entered; null: not known. */
export function actOfValue(
  { trail }: Pick<Records, 'trail'>,
  measurementId: string,
  potId: string,
): EntryAct | null {
  return actOf(trail, trail?.entered[measurementId]?.[potId]);
}

const actOf = (trail: Trail | undefined, number: number | undefined): EntryAct | null =>
  number === undefined ? null : (trail?.acts[number] ?? null);

/** The trail of the second entry, as if it were the first; nothing of the first is in it. */
export function trailOfSecond(trail: Trail): Trail {
  return {
    acts: trail.acts,
    entered: trail.enteredSecond ?? {},
    replaced: trail.replaced.flatMap(({ second, ...one }) => (second ? [one] : [])),
    ...(trail.marks && {
      marks: trail.marks.flatMap(({ second, ...one }) => (second ? [one] : [])),
    }),
    // Notes are of both.
    ...(trail.notes && { notes: trail.notes }),
  };
}

/** `2026-04-05 14:02 by KM`. */
export function sayAct({ at, by }: EntryAct): string {
  return `${sayInstant(at)}${by === undefined ? '' : ` by ${by}`}`;
}
