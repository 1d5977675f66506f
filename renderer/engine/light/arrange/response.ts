import type { LampKind } from '../../../../shared-types/rack';
import { directAtPoints, readyLamps } from '../sources/direct';
import { shelfModel } from '../model';
import { bayParts } from '../parted/bayParts';
import { Refusal } from '../../../words';
import { lampsOfRow, shelfWith, type RowPlan } from './rows';
import type { ArrangeSite } from './site';
import { add, real } from '../../entry';

/** PPFD at the judged points from one row of lamps at a place, at full output. */
export type RowResponse = (placeMm: number) => Float64Array;

// Reflected light changes slowly with a row's place: it is worked out here and there and read off
// between. What is found is judged by the whole model afterwards.
const LATTICE = 13;

/**
 * Response of rows of the first kind at one height; reflected light interpolated over the places of the
 * plan.
 */
export function rowResponse(
  { amongDark: shelf, rect, bayId, points }: ArrangeSite,
  kinds: readonly [LampKind, ...LampKind[]],
  plan: RowPlan,
  request: { zMm: number; heightMm: number; reflected: boolean },
): RowResponse {
  const [kind] = kinds;
  const row = (placeMm: number) =>
    lampsOfRow(rect, kind, plan, { placeMm, zMm: request.zMm, dimming: 1 });
  const direct = (placeMm: number) =>
    directAtPoints(readyLamps(shelfWith(shelf, row(placeMm)), kinds), points);
  if (!request.reflected) return remembered(direct);
  const step = (plan.toMm - plan.fromMm) / (LATTICE - 1);
  const places = Array.from({ length: step > 0 ? LATTICE : 1 }, (_, i) => plan.fromMm + i * step);
  // Every place is a lamp group of one and the same model, so that the bay is cut up only once.
  const rows = places.flatMap((placeMm, i) =>
    row(placeMm).map((lamp) => ({ ...lamp, group: String(i) })),
  );
  // The bay by itself: what comes back through the gaps of others is left to the judging model.
  const bay = bayParts(shelfWith(shelf, rows), kinds).find((part) => part.bay.id === bayId);
  if (!bay) throw new Refusal(`bay ${bayId}: not on the shelf; one of its bays is expected`);
  const model = shelfModel(bay.shelf, bay.lampKinds, request);
  const local = points.map((point) => ({
    ...point,
    xMm: point.xMm - rect.xMm,
    yMm: point.yMm - rect.yMm,
  }));
  const lattice = places.map((placeMm, i) => {
    const whole = model.at(local, (group) => (group === String(i) ? 1 : 0));
    const bare = direct(placeMm);
    return whole.map((value, k) => value - real(bare, k));
  });
  return remembered((placeMm) => {
    const sum = direct(placeMm);
    const place = step > 0 ? (placeMm - plan.fromMm) / step : 0;
    const cell = Math.max(0, Math.min(lattice.length - 2, Math.floor(place)));
    const share = Math.max(0, Math.min(1, place - cell));
    const [before, after] = [lattice[cell], lattice[Math.min(cell + 1, lattice.length - 1)]];
    for (let k = 0; k < sum.length; k++) {
      const extra = (1 - share) * (before?.[k] ?? 0) + share * (after?.[k] ?? 0);
      add(sum, k, extra);
    }
    return sum;
  });
}

/** The search comes back to the same places again and again. */
function remembered(response: RowResponse): RowResponse {
  const known = new Map<number, Float64Array>();
  return (placeMm) => {
    const before = known.get(placeMm);
    if (before) return before;
    const found = response(placeMm);
    known.set(placeMm, found);
    return found;
  };
}
