import type { Shelf } from '../../../../shared-types/rack';
import { real } from '../../entry';
import type { ShelfModel } from '../model';
import type { PointMm } from '../sources/direct';
import { facingOf } from './facing';
import { OUTSIDE, roomSideOf } from './surroundings';

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

/**
 * PPFD (µmol m⁻² s⁻¹) at points that comes from lit rooms, and how far it may be off to either side: half
 * of what is typed between the lowest and the highest figure of each side. A room's sides are off
 * together.
 */
export function roomLight(
  model: ShelfModel,
  shelf: Pick<Shelf, 'faces'>,
  points: readonly PointMm[],
): { ppfd: Float64Array; off: Float64Array } {
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
  return {
    ppfd: from(() => 1),
    off: from((low, high) => (high > 0 ? (high - low) / (high + low) : 0)),
  };
}
