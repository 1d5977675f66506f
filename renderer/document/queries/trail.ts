import type { EntryAct, Records, Trail } from '../../../shared-types/records';
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
  };
}

/** `2026-04-05 14:02 by KM`. */
export function sayAct({ at, by }: EntryAct): string {
  return `${sayInstant(at)}${by === undefined ? '' : ` by ${by}`}`;
}
