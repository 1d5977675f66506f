import type { LightPlan } from '../../../shared-types/light';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import { wornShelf, type ShelfInRoom } from '../lamps';
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

/**
 * The shelf after so many days of the trial, its lamps and those of the shelves that it faces worn by
 * the hours that they burn a day; the same shelf where none of them ages.
 */
export function shelfAfter(
  shelf: ShelfInRoom,
  lampKinds: readonly LampKind[],
  light: Hours,
  days: number,
): ShelfInRoom {
  if (!(days > 0)) return shelf;
  const after = <S extends Shelf>(one: S): S => {
    const hoursAt = hoursOver(one, light);
    return wornShelf(one, lampKinds, ({ xMm, yMm }) => days * hoursAt(xMm, yMm));
  };
  const own = after(shelf);
  const others = shelf.others?.map(after);
  const older = others?.some((other, i) => other !== shelf.others?.[i]);
  return others && older ? { ...own, others } : own;
}
