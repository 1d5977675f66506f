import type { LampKind, Shelf } from '../../../shared-types/rack';
import type { PointMm } from './sources/direct';
import { shelfLight, type LightSource, type ShelfLightRequest } from './shelfLight';
import { Refusal } from '../../words';

/** PPFD over a shelf at cell centres, row by row from the front left: index row · columns + column. */
export interface ShelfField {
  /** Of the canopy, mean over the shelf. */
  heightMm: number;
  columns: number;
  rows: number;
  /** Cell centres in the shelf's axes, mm. */
  xs: Float64Array;
  ys: Float64Array;
  /** µmol m⁻² s⁻¹. */
  ppfd: Float64Array;
  source: LightSource;
}

/** Reflected light is counted unless it is switched off. */
export type FieldOptions = Partial<
  Pick<ShelfLightRequest, 'reflected' | 'readings' | 'scales' | 'worn'>
>;

export interface FieldRequest extends FieldOptions {
  /** Height of the receiving plane above the shelf's surface, and of the floor that reflects. */
  heightMm: number;
  /** The receiver's height place by place, where it is not one plane. */
  heightAt?: (xMm: number, yMm: number) => number;
  /** Wanted side of a cell; the cells are stretched a little so that they fill the shelf. */
  gridMm: number;
}

function cellCentres(spanMm: number, gridMm: number): Float64Array {
  const count = Math.max(1, Math.round(spanMm / gridMm));
  return Float64Array.from({ length: count }, (_, i) => ((i + 0.5) * spanMm) / count);
}

/** Centres of the cells of a grid over the whole shelf, level unless a height is told place by place. */
export function shelfGrid(
  shelf: Shelf,
  heightMm: number,
  gridMm: number,
  heightAt: (xMm: number, yMm: number) => number = () => heightMm,
) {
  if (!(gridMm > 0)) throw new Refusal(`grid of ${gridMm} mm: more than 0 is expected`);
  if (!(heightMm >= 0)) throw new Refusal(`canopy at ${heightMm} mm: 0 or more is expected`);
  const xs = cellCentres(shelf.widthMm, gridMm);
  const ys = cellCentres(shelf.depthMm, gridMm);
  const points: PointMm[] = [];
  for (const yMm of ys) for (const xMm of xs) points.push({ xMm, yMm, zMm: heightAt(xMm, yMm) });
  return { xs, ys, points };
}

/** PPFD at canopy height over the whole shelf. Throws on a grid that is not positive. */
export function shelfField(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  { heightMm, gridMm, heightAt, reflected = true, ...rests }: FieldRequest,
): ShelfField {
  const { xs, ys, points } = shelfGrid(shelf, heightMm, gridMm, heightAt);
  const light = shelfLight(shelf, lampKinds, { heightMm, reflected, ...rests });
  const ppfd = light.at(points);
  return { heightMm, columns: xs.length, rows: ys.length, xs, ys, ppfd, source: light.source };
}

/**
 * PPFD (µmol m⁻² s⁻¹) on a level, upward facing receiver at each point over the shelf. For
 * reflected light the canopy is taken at `heightMm`, or else at the lowest point.
 */
export function ppfdAtPoints(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  points: readonly PointMm[],
  options: FieldOptions & { heightMm?: number } = {},
): Float64Array {
  if (points.length === 0) return new Float64Array(0);
  const lowest = points.reduce((least, { zMm }) => Math.min(least, zMm), Infinity);
  const request = { heightMm: lowest, reflected: true, ...options };
  return shelfLight(shelf, lampKinds, request).at(points);
}
