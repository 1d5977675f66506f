import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { runName, seenFrom } from '../../document/runs';
import { noticesOfStage } from '../../words';
import { trialDays } from './markNotices';

const notice = noticesOfStage('records');

/**
 * A run that begins on the rack before the one before it has left it. Both on one day is no fault:
 * one is harvested in the morning, the other planted after.
 */
export function runOrderNotices(plan: Plan): Notice[] {
  const before = plan.earlierRuns?.at(-1);
  if (!before) return [];
  const name = runName(plan, before.id).toLowerCase();
  const planted = plan.layout?.plantedAt ?? null;
  const begins = planted ?? plan.trial?.startDate ?? null;
  if (begins === null) return [];
  const earlier = seenFrom(plan, before.id);
  const { last } = trialDays(earlier.trial, earlier.layout, earlier.records.days);
  const does = planted === null ? 'starts on' : 'is planted since';
  if (last !== null && begins < last) {
    return [
      late(
        `This run ${does} ${begins}, but ${name} ends on ${last}: one rack cannot hold both.`,
        'Correct the dates of either run, or accept it with a reason.',
      ),
    ];
  }
  if (planted === null || last !== null || isHarvested(earlier)) return [];
  return [
    late(
      `This run is planted since ${planted}, but ${name} has no harvest: neither a day nor a value.`,
      `Say when ${name} was harvested, under Trial, or accept it with a reason.`,
    ),
  ];
}

const late = (text: string, remedy: string): Notice =>
  notice('dates-implausible', 'warn', ['plan'], text, remedy);

const isHarvested = ({ trial, records }: Plan): boolean =>
  (trial?.measurements ?? []).some(
    ({ id, timepoint }) =>
      timepoint === 'harvest' && Object.keys(records.values[id] ?? {}).length > 0,
  );
