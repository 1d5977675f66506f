import type { Lamp, LampKind, Shelf } from '../../../../shared-types/rack';
import { directAtPoints, readyLamps, type PointMm } from '../direct';
import { shelfModel } from '../model';

/** PPFD at the judged points from one row of lamps across the shelf, at full output. */
export type RowResponse = (yMm: number) => Float64Array;

// Reflected light changes slowly with a row's place: it is worked out here and there and read off
// between. What is found is judged by the whole model afterwards.
const LATTICE = 13;

/** One row of lamps along x at a place and height. */
export function rowOf(
  shelf: Shelf,
  kind: LampKind,
  row: { yMm: number; zMm: number; perRow: number; dimming: number },
): Omit<Lamp, 'id'>[] {
  return Array.from({ length: row.perRow }, (_, i) => ({
    kindId: kind.id,
    xMm: (shelf.widthMm * (i + 0.5)) / row.perRow,
    yMm: row.yMm,
    zMm: row.zMm,
    rotationDeg: 0,
    tiltDeg: 0,
    dimming: row.dimming,
    group: '',
  }));
}

/** The shelf with these lamps and no others. */
export function shelfWith(shelf: Shelf, lamps: readonly Omit<Lamp, 'id'>[]): Shelf {
  return { ...shelf, lamps: lamps.map((lamp, i) => ({ ...lamp, id: `l${i + 1}` })) };
}

/** Response of rows at one height; reflected light interpolated over places from–to. */
export function rowResponse(
  shelf: Shelf,
  kind: LampKind,
  request: { zMm: number; perRow: number; heightMm: number; reflected: boolean },
  points: readonly PointMm[],
  range: { fromMm: number; toMm: number },
): RowResponse {
  const { zMm, perRow } = request;
  const at = (yMm: number) =>
    shelfWith(shelf, rowOf(shelf, kind, { yMm, zMm, perRow, dimming: 1 }));
  const direct = (yMm: number) => directAtPoints(readyLamps(at(yMm), [kind]), points);
  if (!request.reflected) return direct;
  const step = (range.toMm - range.fromMm) / (LATTICE - 1);
  const places = Array.from({ length: step > 0 ? LATTICE : 1 }, (_, i) => range.fromMm + i * step);
  // Every place is a lamp group of one and the same model, so that the bay is cut up only once.
  const rows = places.flatMap((yMm, i) =>
    rowOf(shelf, kind, { yMm, zMm, perRow, dimming: 1 }).map((lamp) => ({
      ...lamp,
      group: String(i),
    })),
  );
  const model = shelfModel(shelfWith(shelf, rows), [kind], request);
  const lattice = places.map((yMm, i) => {
    const whole = model.at(points, (group) => (group === String(i) ? 1 : 0));
    const bare = direct(yMm);
    return whole.map((value, k) => value - (bare[k] ?? 0));
  });
  return (yMm) => {
    const sum = direct(yMm);
    const place = step > 0 ? (yMm - range.fromMm) / step : 0;
    const cell = Math.max(0, Math.min(lattice.length - 2, Math.floor(place)));
    const share = Math.max(0, Math.min(1, place - cell));
    const [before, after] = [lattice[cell], lattice[Math.min(cell + 1, lattice.length - 1)]];
    for (let k = 0; k < sum.length; k++) {
      const extra = (1 - share) * (before?.[k] ?? 0) + share * (after?.[k] ?? 0);
      sum[k] = (sum[k] ?? 0) + extra;
    }
    return sum;
  };
}
