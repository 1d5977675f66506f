import type { LampKind, Shelf } from '../../../shared-types/rack';
import { directAtPoints, readyLamps, type PointMm } from './direct';

/** PPFD over a shelf at cell centres, row by row from the front left: index row · columns + column. */
export interface ShelfField {
  heightMm: number;
  columns: number;
  rows: number;
  /** Cell centres in the shelf's axes, mm. */
  xs: Float64Array;
  ys: Float64Array;
  /** µmol m⁻² s⁻¹. */
  ppfd: Float64Array;
}

export interface FieldRequest {
  /** Height of the receiving plane above the shelf's surface. */
  heightMm: number;
  /** Wanted side of a cell; the cells are stretched a little so that they fill the shelf. */
  gridMm: number;
}

function cellCentres(spanMm: number, gridMm: number): Float64Array {
  const count = Math.max(1, Math.round(spanMm / gridMm));
  return Float64Array.from({ length: count }, (_, i) => ((i + 0.5) * spanMm) / count);
}

/** PPFD on a level plane over the whole shelf. Throws on a grid that is not positive. */
export function shelfField(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  { heightMm, gridMm }: FieldRequest,
): ShelfField {
  if (!(gridMm > 0)) throw new Error(`grid of ${gridMm} mm: more than 0 is expected`);
  if (!(heightMm >= 0)) throw new Error(`canopy at ${heightMm} mm: 0 or more is expected`);
  const xs = cellCentres(shelf.widthMm, gridMm);
  const ys = cellCentres(shelf.depthMm, gridMm);
  const points: PointMm[] = [];
  for (const yMm of ys) for (const xMm of xs) points.push({ xMm, yMm, zMm: heightMm });
  const ppfd = ppfdAtPoints(shelf, lampKinds, points);
  return { heightMm, columns: xs.length, rows: ys.length, xs, ys, ppfd };
}

/** PPFD (µmol m⁻² s⁻¹) on a level, upward facing receiver at each point over the shelf. */
export function ppfdAtPoints(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  points: readonly PointMm[],
): Float64Array {
  return directAtPoints(readyLamps(shelf, lampKinds), points);
}
