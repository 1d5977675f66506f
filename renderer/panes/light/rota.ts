import type { Plan } from '../../../shared-types/plan';
import { trialDaysOf, type RotaPeriod } from '../../derive';
import { setDays, useLightSitting } from './sitting';

/** The rota as far as the rack still has its trays: without those that are gone. */
export function usableRota(plan: Plan, rota: readonly RotaPeriod[]): readonly RotaPeriod[] {
  const trays = new Set(plan.rack.shelves.flatMap((s) => s.trays.map((tray) => tray.id)));
  const known = (period: RotaPeriod) =>
    Object.entries(period.places).every(([id, { placeOf }]) => trays.has(id) && trays.has(placeOf));
  return rota.every(known) ? rota : [];
}

/** Days that the trial lasts: as it is dated, or as typed here where it is not. */
export function useTrialDays(plan: Plan): [days: number, setDays: ((days: number) => void) | null] {
  const typed = useLightSitting((s) => s.days);
  const dated = trialDaysOf(plan);
  return dated === null ? [typed, setDays] : [dated, null];
}
