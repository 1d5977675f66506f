import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Mark } from '../../../shared-types/records';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { refTo } from '../../document/queries/refs';
import type { Pot } from '../../engine/geometry';
import { memo } from '../memo';
import { noticesOfStage, sayDay } from '../../words';

const notice = noticesOfStage('records');

/** The first and the last day of the trial, as far as the plan tells. ISO 8601; null: not told. */
export const trialDays = memo(
  (
    trial: Plan['trial'],
    layout: Plan['layout'],
    days: Plan['records']['days'],
  ): { first: string | null; last: string | null } => {
    const of = (timepoint: Measurement['timepoint']) =>
      (trial?.measurements ?? []).flatMap((m) =>
        m.timepoint === timepoint ? [m.date, ...Object.values(days?.[m.id] ?? {})] : [],
      );
    const known = (days: readonly (string | null | undefined)[]) =>
      days.flatMap((day) => (day ? [day.slice(0, 10)] : [])).sort();
    return {
      first: known([trial?.startDate, layout?.plantedAt, ...of('start')])[0] ?? null,
      last: known([trial?.harvestDate, ...of('harvest')]).at(-1) ?? null,
    };
  },
);

/**
 * The day that a mark set now is dated: that of the measurement it is set at, or the end of the
 * trial, where these are past; else today.
 */
export function usualMarkDay(plan: Plan, measurement: Measurement | null, today: string): string {
  const { last } = trialDays(plan.trial, plan.layout, plan.records.days);
  const days = [measurement?.date ?? null, last, today];
  return days.flatMap((day) => (day !== null && day <= today ? [day] : []))[0] ?? today;
}

/** What is odd about the day of a mark; null: nothing. An exclusion may be decided any day. */
export function markDayProblem(plan: Plan, { mark, date }: Mark): string | null {
  if (date === null || mark === 'excluded') return null;
  const { first, last } = trialDays(plan.trial, plan.layout, plan.records.days);
  if (first !== null && date < first)
    return `${sayDay(date)} is before the trial began, ${sayDay(first)}.`;
  if (last !== null && date > last) return `${sayDay(date)} is after the harvest, ${sayDay(last)}.`;
  return null;
}

/** Plants that died or went missing before the trial or after its end, by their date. */
export function markNotices(plan: Plan, pots: readonly Pot[]): Notice[] {
  const { marks, days } = plan.records;
  return oddMarks(plan.trial, plan.layout, marks, days, pots).map(({ odd, when }) => {
    const named = odd.slice(0, 4).map(({ pot, day }) => `${pot.code} ${sayDay(day)}`);
    const more = odd.length > named.length ? ` and ${odd.length - named.length} more` : '';
    const plants = odd.length === 1 ? '1 plant is' : `${odd.length} plants are`;
    return notice(
      'dates-implausible',
      'warn',
      odd.map(({ pot }) => refTo('pot', pot.id)),
      `${plants} marked as dead or missing ${when}: ${named.join(', ')}${more}.`,
      'Correct the day under “This pot”, or accept it with a reason.',
    );
  });
}

const oddMarks = memo(
  (
    trial: Plan['trial'],
    layout: Plan['layout'],
    marks: Plan['records']['marks'],
    days: Plan['records']['days'],
    pots: readonly Pot[],
  ) => {
    const { first, last } = trialDays(trial, layout, days);
    const dated = pots.flatMap((pot) => {
      const mark = marks[pot.id];
      return mark && mark.date !== null && mark.mark !== 'excluded'
        ? [{ pot, day: mark.date }]
        : [];
    });
    const before = dated.filter(({ day }) => first !== null && day < first);
    const after = dated.filter(({ day }) => last !== null && day > last);
    return [
      { odd: before, when: `before the trial began, ${first ?? ''}` },
      { odd: after, when: `after the harvest, ${last ?? ''}` },
    ].filter(({ odd }) => odd.length > 0);
  },
);
