import type { Plan } from '../../../shared-types/plan';
import { trialDaysOf } from '../../derive';
import { NumberField } from '../../ui';
import { setDays, useLightSession } from './lightSession';

const USUAL_DAYS = 35;

/** Days that the trial lasts: as it is dated, or as typed here or as the rota has it where it is not. */
export function useTrialDays(plan: Plan): [days: number, setDays: ((days: number) => void) | null] {
  const typed = useLightSession((s) => s.days);
  const dated = trialDaysOf(plan);
  if (dated !== null) return [dated, null];
  return [typed ?? plan.light.rota?.at(-1)?.toDay ?? USUAL_DAYS, setDays];
}

/** Asks how long the trial lasts, where its dates do not say it. */
export function TrialDaysField({ plan, remark }: { plan: Plan; remark?: string }) {
  const [days, set] = useTrialDays(plan);
  if (!set) return null;
  return (
    <NumberField
      label="Trial lasts"
      unit="days"
      whole
      lowest={1}
      highest={2000}
      value={days}
      remark={remark}
      onCommit={set}
    />
  );
}
