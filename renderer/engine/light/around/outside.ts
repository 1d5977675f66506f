import { real } from '../../entry';
import type { ShelfModel } from '../model';
import type { PointMm } from '../sources/direct';
import { OUTSIDE } from './surroundings';

/**
 * Of the estimated light at points, the share that lamps outside the shelf send: those of the bays of
 * another shelf that `of` names, or `room`; of all where nothing is named.
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
