import { Refusal } from '../command';
import { measurementIn } from '../edit';
import { plannedDay } from '../queries/days';
import { codeOfPot } from '../queries/names';
import type { Plan } from '../../../shared-types/plan';
import type { Mark, Records } from '../../../shared-types/records';
import { potTest } from '../potsInRack';

/**
 * Refuses values that are no numbers or belong to no pot; clearing (null) is always allowed.
 * Whether a number is plausible is for the slip checks to say.
 */
export function checkValues(
  plan: Plan,
  entries: readonly { potId: string; value: number | null }[],
): void {
  const isPot = potTest(plan.rack);
  for (const { potId, value } of entries) {
    if (value === null) continue;
    if (!isPot(potId)) throw new Refusal(`No pot stands at ${codeOfPot(plan, potId)}.`);
    if (!Number.isFinite(value)) {
      throw new Refusal(`The value of ${codeOfPot(plan, potId)} is not a number.`);
    }
  }
}

/** Writes one value into a draft's list, or clears it (null); an empty measurement goes too. */
export function storeValue(
  list: Records['values'],
  measurementId: string,
  potId: string,
  value: number | null,
): void {
  if (value !== null) {
    (list[measurementId] ??= {})[potId] = value;
    return;
  }
  const byPot = list[measurementId];
  if (!byPot) return;
  Reflect.deleteProperty(byPot, potId);
  if (Object.keys(byPot).length === 0) Reflect.deleteProperty(list, measurementId);
}

/**
 * Writes on which day the value of one pot was taken, once the value is written. null: on the day of
 * its measurement; undefined: a value that stood keeps its day. No day is kept of a value that is gone,
 * or taken on the day of its measurement.
 */
export function storeDay(
  draft: Plan,
  measurementId: string,
  potId: string,
  day?: string | null,
): void {
  const { records } = draft;
  if (records.values[measurementId]?.[potId] === undefined) day = null;
  if (day === undefined) return;
  if (day !== null && day !== plannedDay(draft, measurementIn(draft, measurementId))) {
    ((records.days ??= {})[measurementId] ??= {})[potId] = day;
    return;
  }
  const byPot = records.days?.[measurementId];
  if (!records.days || !byPot) return;
  Reflect.deleteProperty(byPot, potId);
  if (Object.keys(byPot).length === 0) Reflect.deleteProperty(records.days, measurementId);
  if (Object.keys(records.days).length === 0) delete records.days;
}

/** Before values of a measurement are cleared: notes how many stood, where that is the most so far. */
export function rememberStood(records: Records, measurementId: string): void {
  const most = mostStood(records, measurementId);
  if (most > 0) (records.stoodBefore ??= {})[measurementId] = most;
}

/** How many values of a measurement stand, or stood at once before any were cleared. */
export function mostStood(records: Records, measurementId: string): number {
  const now = Object.keys(records.values[measurementId] ?? {}).length;
  const second = Object.keys(records.second[measurementId] ?? {}).length;
  return Math.max(now, second, records.stoodBefore?.[measurementId] ?? 0);
}

/** Writes the mark of one pot into a draft, or takes it away (null). */
export function storeMark(
  records: Records,
  potId: string,
  mark: Mark | null,
  second: boolean,
): void {
  if (mark) {
    const list = second ? (records.secondMarks ??= {}) : records.marks;
    list[potId] = { ...mark };
    return;
  }
  const list = second ? records.secondMarks : records.marks;
  if (list) Reflect.deleteProperty(list, potId);
  if (second && list && Object.keys(list).length === 0) delete records.secondMarks;
}

/** Notices that speak of one value, and so fall with it. */
const ABOUT_A_VALUE = new Set(['value-out-of-range', 'value-suspicious', 'double-entry-differs']);

/**
 * An accepted notice was accepted for the value that stood there: where that value changes, the
 * acceptance goes, so that the next odd value is asked about anew.
 */
export function forgetAcceptance(
  draft: Plan,
  entries: readonly { measurementId: string; potId: string; value: number | null }[],
): void {
  if (draft.acceptedNotices.length === 0) return;
  const changed = new Set(
    entries
      .filter(({ measurementId, potId, value }) => {
        const was = draft.records.values[measurementId]?.[potId] ?? null;
        return was !== value;
      })
      .map(({ measurementId, potId }) => `pot:${potId} measurement:${measurementId}`),
  );
  const stays = ({ kind, about, run }: Plan['acceptedNotices'][number]) =>
    !ABOUT_A_VALUE.has(kind) ||
    (run !== undefined && run !== draft.runId) ||
    !about.some((pot) => about.some((other) => changed.has(`${pot} ${other}`)));
  if (!draft.acceptedNotices.every(stays)) {
    draft.acceptedNotices = draft.acceptedNotices.filter(stays);
  }
}
