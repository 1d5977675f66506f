import type { LightPlan } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import { daysBetween } from '../../engine/calendar';

/** Days from start to harvest as the trial is dated; null where it is not. */
export function trialDaysOf(plan: Pick<Plan, 'trial'>): number | null {
  const { startDate, harvestDate } = plan.trial ?? { startDate: null, harvestDate: null };
  if (!startDate || !harvestDate) return null;
  const days = daysBetween(startDate, harvestDate);
  return days > 0 ? days : null;
}

/**
 * Days of the trial that its lamps have burnt at the time that the light is told for; 0 where the
 * trial is not dated or no lamp ages.
 */
export function burntDaysOf(
  { rack, trial }: Pick<Plan, 'rack' | 'trial'>,
  at: LightPlan['canopyAt'],
): number {
  if (!rack.lampKinds.some(({ lossPer1000h = 0 }) => lossPer1000h > 0)) return 0;
  const days = trialDaysOf({ trial }) ?? 0;
  switch (at) {
    case 'planting':
      return 0;
    case 'midway':
      return days / 2;
    case 'harvest':
      return days;
  }
}
