import type { Shelf } from '../../../../shared-types/rack';
import { real } from '../../entry';
import type { ShelfModel } from '../model';
import type { PointMm } from '../sources/direct';
import { facingOf } from './facing';
import { BACK, OUTSIDE, RETURNED, roomSideOf } from './keys';

/**
 * Of the estimated light at points, the share that lamps outside the shelf send: those of the bays of
 * another shelf that `of` names; of all where nothing is named.
 */
export function outsideShares(
  model: ShelfModel,
  points: readonly PointMm[],
  of?: string,
): Float64Array {
  if (!model.groups.includes(OUTSIDE)) return new Float64Array(points.length);
  const whole = model.at(points);
  const theirs = model.at(
    points,
    (group) => (group === OUTSIDE ? 1 : 0),
    (outside) => (of === undefined || outside === of ? 1 : 0),
  );
  return theirs.map((value, i) => (real(whole, i) > 0 ? value / real(whole, i) : 0));
}

/** PPFD (µmol m⁻² s⁻¹) at points. */
export interface RoomLight {
  /** Of the room's own lamps. */
  ppfd: Float64Array;
  /** That escaped shelves and comes back. */
  returned: Float64Array;
  /** How far both together may be off to either side. */
  off: Float64Array;
}

/**
 * What comes from the room at points. Of its own lamps it may be off by half of what is typed between the
 * lowest and the highest figure of each side; of what it gives back by what is not known of its
 * surfaces. All of it is off together.
 */
export function roomLight(
  model: ShelfModel,
  shelf: Pick<Shelf, 'faces'>,
  points: readonly PointMm[],
): RoomLight {
  const from = (shareOf: (lowest: number, highest: number) => number) =>
    model.groups.includes(OUTSIDE)
      ? model.at(
          points,
          (group) => (group === OUTSIDE ? 1 : 0),
          (outside) => {
            const side = roomSideOf(outside);
            const facing = side && facingOf(shelf, side);
            return facing?.kind === 'lit' ? shareOf(facing.lowestUmol, facing.highestUmol) : 0;
          },
        )
      : new Float64Array(points.length);
  const typed = from((low, high) => (high > 0 ? (high - low) / (high + low) : 0));
  const returned = returnedAt(model, points);
  const within = model.returned?.within ?? 0;
  return {
    ppfd: from(() => 1),
    returned,
    off: typed.map((value, i) => value + within * real(returned, i)),
  };
}

function returnedAt(model: ShelfModel, points: readonly PointMm[]): Float64Array {
  if (!model.returned) return new Float64Array(points.length);
  const comesBack = (outside: string) => outside === BACK || outside === RETURNED;
  const without = model.at(points, undefined, (outside) => (comesBack(outside) ? 0 : 1));
  return model.at(points).map((value, i) => Math.max(0, value - real(without, i)));
}
