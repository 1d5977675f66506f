import type { LightPlan } from '../../../shared-types/light';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import { wornShelf } from '../lamps';
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

/** The shelf after so many days of the trial, its lamps worn by the hours that they burn a day. */
export function shelfAfter(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  light: Hours,
  days: number,
): Shelf {
  if (!(days > 0)) return shelf;
  const hoursAt = hoursOver(shelf, light);
  return wornShelf(shelf, lampKinds, ({ xMm, yMm }) => days * hoursAt(xMm, yMm));
}
