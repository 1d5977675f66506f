import { useMemo } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import type { Pot } from '../../../engine/geometry';
import { enterValues, importValues, markPots } from '../../../document/commands';
import {
  labelBook,
  otherRunLabels,
  pasteColumn,
  readTyped,
  sayValue,
  toValues,
  type OtherRunLabel,
} from '../../../document/records';
import { actOfValue, sayAct } from '../../../document/queries';
import { today } from '../../../ui';
import { usualMarkDay } from '../../../derive/records/markNotices';
import type { EntryBy } from '../../../store';
import { useDispatch } from '../../../store/context';
import { looksLikeLabel } from './keyTrail';
import { plural, fieldNumber, sayDay } from '../../../words';

/** What became of a text. */
export type EntryOutcome =
  | { kind: 'taken'; said: string | null }
  /** It names a pot and is no value; `said`: it could have been one. */
  | { kind: 'pot'; pot: Pot | OtherRunLabel; said: string | null }
  | { kind: 'refused'; why: string };

export interface ValueEntry {
  /** `byMachine`: a scanner or a balance sent it, all of it. */
  take(text: string, pot: Pot, measurement: Measurement, byMachine: boolean): EntryOutcome;
  /** What a label says: a pot, one of another run, or why it leads to none. */
  find(text: string): Pot | OtherRunLabel | string;
  /** A column of values from a pot on. Gives what to say. */
  pasteFrom(text: string, pot: Pot, measurement: Measurement, pots: readonly Pot[]): string;
}

/**
 * How values get into the plan, for the first or the second person. `dayOf`: when values entered now
 * were taken, where it is said.
 */
export function useEntry(
  plan: Plan,
  by: EntryBy,
  dayOf: (measurement: Measurement) => string | undefined,
): ValueEntry {
  const dispatch = useDispatch();
  const { rack, layout, earlierRuns } = plan;
  const own = useMemo(
    () => labelBook({ rack, layout, ...(earlierRuns ? { earlierRuns } : {}) }),
    [rack, layout, earlierRuns],
  );
  const ofOthers = useMemo(() => otherRunLabels(plan), [plan]);
  const second = by === 'second';

  const find = (text: string): Pot | OtherRunLabel | string => {
    const found = own(text);
    if (found === 'several') return `“${text.trim()}” fits several pots.`;
    return found ?? ofOthers(text) ?? `No pot bears “${text.trim()}”.`;
  };

  return {
    find,
    take: (text, pot, measurement, byMachine) => {
      const read = readTyped(text, measurement, plan.records.tare?.[measurement.id], byMachine);
      // Plants may bear codes that read as a value: what comes by machine is a label then.
      if (byMachine && read.kind !== 'unreadable') {
        const found = own(text) ?? ofOthers(text);
        if (found === 'several') return { kind: 'refused', why: `“${text}” fits several pots.` };
        if (typeof found === 'string') return { kind: 'refused', why: found };
        if (found && isOfOtherRun(found)) return { kind: 'pot', pot: found, said: null };
        if (found) {
          const said = `Pot ${found.code}, by the label “${text.trim()}”. If it was a value, type it by hand.`;
          return { kind: 'pot', pot: found, said };
        }
      }
      if (read.kind === 'value' && looksLikeLabel(text, byMachine)) {
        return {
          kind: 'refused',
          why: `No pot bears “${text.trim()}”, and it looks like no value.`,
        };
      }
      if (read.kind === 'unreadable') {
        const found = find(text);
        if (typeof found !== 'string') return { kind: 'pot', pot: found, said: null };
        const why = /[\p{L}].*[0-9]/u.test(text) ? `${read.expected} ${found}` : read.expected;
        return { kind: 'refused', why };
      }
      if (read.kind === 'mark') {
        const { mark } = read;
        const date = usualMarkDay(plan, measurement, today());
        const done = dispatch(markPots, {
          potIds: [pot.id],
          mark: { mark, date, reason: '' },
          second,
        });
        if (!done.ok) return { kind: 'refused', why: done.reason };
        return {
          kind: 'taken',
          said: `${pot.code} is marked ${mark}, ${sayDay(date)}. F2: day and reason.`,
        };
      }
      const value = read.kind === 'blank' ? null : read.value;
      const overwritten = sayOverwritten(plan, measurement, pot, value);
      const done = dispatch(enterValues, {
        measurementId: measurement.id,
        entries: [{ potId: pot.id, value }],
        second,
        day: dayOf(measurement),
      });
      if (!done.ok) return { kind: 'refused', why: done.reason };
      const remark = read.kind === 'value' ? read.remark : null;
      const said = [overwritten, remark].filter((part) => part !== null).join('; ');
      return { kind: 'taken', said: said === '' ? null : `${pot.code}: ${said}.` };
    },
    pasteFrom: (text, pot, measurement, pots) => {
      const to = { measurementId: measurement.id, fromPotId: pot.id, pots };
      const pasted = pasteColumn(plan, text, to);
      if (pasted.problem !== null) return pasted.problem;
      for (const { line, text: written, outcome } of pasted.cells) {
        const held = `Nothing was pasted: line ${line} holds “${written.trim()}”`;
        if (outcome.kind === 'not-a-number') return `${held}, a number is expected.`;
        if (outcome.kind === 'two-readings') {
          return `${held}, which can be ${outcome.asGrouped} or ${fieldNumber(outcome.asDecimal)}. Write it without a mark between thousands, or import the table and say its decimal mark.`;
        }
      }
      const day = dayOf(measurement);
      const taken = toValues(pasted, true);
      const values = taken.values.map((one) => (day === undefined ? one : { ...one, day }));
      const done = dispatch(importValues, { ...taken, values, second });
      if (!done.ok) return done.reason;
      const beyond = pasted.beyond.length;
      const rest = beyond > 0 ? `; ${plural(beyond, 'line')} beyond the last pot left out` : '';
      return `Pasted ${plural(values.length, 'value')} from ${pot.code} on${rest}.`;
    },
  };
}

/** `12.5 g replaces 11 g of 2026-04-05 14:02 by KM`; null: nothing stood there, or the same. */
function sayOverwritten(
  plan: Plan,
  measurement: Measurement,
  pot: Pot,
  value: number | null,
): string | null {
  const was = plan.records.values[measurement.id]?.[pot.id];
  if (was === undefined || was === value) return null;
  const act = actOfValue(plan.records, measurement.id, pot.id);
  const stood = `${sayValue(was, measurement)}${act ? ` of ${sayAct(act)}` : ''}`;
  return value === null
    ? `${stood} is cleared`
    : `${sayValue(value, measurement)} replaces ${stood}`;
}

export const isOfOtherRun = (found: Pot | OtherRunLabel): found is OtherRunLabel =>
  'runId' in found;
