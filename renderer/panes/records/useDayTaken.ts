import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { plannedDay } from '../../document/queries';
import { useKept, type Kept } from '../../store/context';

/** By what is measured on one day: its time in the trial and its planned day. */
const DAYS: Kept<Readonly<Record<string, string>>> = { name: 'records-days', initial: {} };

/** The day on which values entered now were taken, chosen once for all measurements of one day. */
export function useDayTaken(plan: Plan) {
  const [chosen, choose] = useKept(DAYS);
  const keyOf = (m: Measurement) => `${m.timepoint} ${plannedDay(plan, m) ?? ''}`;
  const dayOf = (measurement: Measurement): string | undefined => chosen[keyOf(measurement)];
  return {
    /** undefined: nothing else was chosen than the day of the measurement. */
    dayOf,
    shown: (measurement: Measurement) => dayOf(measurement) ?? plannedDay(plan, measurement) ?? '',
    /** '': back to the day of the measurement. */
    choose: (measurement: Measurement, day: string) => {
      const others = Object.entries(chosen).filter(([key]) => key !== keyOf(measurement));
      const one = day === '' ? [] : [[keyOf(measurement), day] as const];
      choose(Object.fromEntries([...others, ...one]));
    },
  };
}
