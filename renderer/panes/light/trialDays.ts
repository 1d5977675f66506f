import type { Plan } from '../../../shared-types/plan';
import { trialDaysOf } from '../../derive';
import { setDays, useLightSession } from './lightSession';

const USUAL_DAYS = 35;

/** Days that the trial lasts: as it is dated, or as typed here or as the rota has it where it is not. */
export function useTrialDays(plan: Plan): [days: number, setDays: ((days: number) => void) | null] {
  const typed = useLightSession((s) => s.days);
  const dated = trialDaysOf(plan);
  if (dated !== null) return [dated, null];
  return [typed ?? plan.light.rota?.at(-1)?.toDay ?? USUAL_DAYS, setDays];
}
