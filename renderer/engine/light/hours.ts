import type { LightPlan } from '../../../shared-types/light';
import { bayAt, baysOf, type Bay, type BayShelf } from '../geometry';

type Hours = Pick<LightPlan, 'photoperiodHours'>;

/** Hours a day that the lamps of a bay burn: by its own timer, or as the plan says for all. */
export const bayHours = (bay: Pick<Bay, 'photoperiodHours'>, light: Hours): number =>
  bay.photoperiodHours ?? light.photoperiodHours;

/** The same at a point over a shelf. */
export function hoursOver(shelf: BayShelf, light: Hours): (xMm: number, yMm: number) => number {
  const bays = baysOf(shelf);
  return (xMm, yMm) => bayHours(bayAt(bays, xMm, yMm), light);
}
