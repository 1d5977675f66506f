import type { PlaceCovariance } from '../../../../../shared-types/fit';
import { cleanBlock, type Cleaned } from '../../randomisation';
import { choleskyInPlace, inverseFromCholesky, logDeterminant } from '../cholesky';
import type { SparseColumn } from '../../linear';
import { rowsTogether } from '../rowsTogether';
import { surfaceOf } from './surface';
import { num, real, whole } from '../../../entry';

/** Where rows stand, and the codes of the units that they share. */
export interface Place {
  readonly row: Float64Array;
  readonly column: Float64Array;
  readonly group: Int32Array;
  readonly units: readonly Int32Array[];
}

/**
 * The values that each variance parameter may take: of neighbours both correlations, the share of the
 * nugget, then the units; of a surface the three curvatures, then the units. Ratios are to the variance of a pot.
 */
export interface VarianceGrid {
  readonly of: PlaceCovariance;
  readonly levels: readonly (readonly number[])[];
}

/** V of places that stand to each other alike, at any point of the grid; factorised once each. */
export interface Shape {
  readonly size: number;
  /** Fixed trends beside the design, each of length `size`. */
  readonly trends: readonly Float64Array[];
  /** V, its inverse and log|V| at a point, given by the number of the level of each parameter. */
  at(point: Int32Array): { v: Float64Array; inverse: Float64Array; logDet: number };
  /** V⁻¹ there with the trends taken out, every place having a row. */
  cleaned(point: Int32Array): Cleaned;
}

/** Groups of rows that vary together, as places and units say, with their shapes. */
export function placeShapes(
  place: Place,
  grid: VarianceGrid,
): { shape: Shape; rows: Int32Array }[] {
  const { row, column, group, units } = place;
  const n = row.length;
  const surface = grid.of === 'surface' ? surfaceOf(row, column, group) : null;
  const shapes = new Map<string, Shape>();
  return rowsTogether([group, ...units], n).map((rows) => {
    const local = (codes: Int32Array): number[] => {
      const seen = [...new Set(Array.from(rows, (i) => whole(codes, i)))];
      return Array.from(rows, (i) => seen.indexOf(whole(codes, i)));
    };
    const corner = (values: Float64Array): number[] => {
      const groups = local(group);
      const own = Array.from(rows, (i) => real(values, i));
      return own.map(
        (value, k) => value - Math.min(...own.filter((_, l) => groups[l] === groups[k])),
      );
    };
    const codes = [group, ...units].map(local);
    const at = { rows: corner(row), columns: corner(column) };
    const key = JSON.stringify([at, codes]);
    const found = shapes.get(key) ?? shapeOf(at, codes, grid, surface, rows);
    shapes.set(key, found);
    return { shape: found, rows };
  });
}

function shapeOf(
  at: { rows: readonly number[]; columns: readonly number[] },
  [groups = [], ...units]: readonly (readonly number[])[],
  { of, levels }: VarianceGrid,
  surface: ReturnType<typeof surfaceOf> | null,
  rows: Int32Array,
): Shape {
  const size = rows.length;
  const same = (codes: readonly number[], i: number, j: number) => codes[i] === codes[j];
  const gap = (values: readonly number[], i: number, j: number) =>
    Math.abs(num(values, i) - num(values, j));
  const placeOf = new Map(Array.from(rows, (row, place) => [row, place] as const));
  const within = (columns: readonly SparseColumn[]): Float64Array[] =>
    columns
      .filter((column) => placeOf.has(whole(column.rows, 0)))
      .map((column) => {
        const own = new Float64Array(size);
        column.rows.forEach((row, k) => (own[placeOf.get(row) ?? -1] = real(column.values, k)));
        return own;
      });
  const spread = (surface?.curvatures ?? []).map(({ columns }) => {
    const product = new Float64Array(size * size);
    for (const own of within(columns)) {
      own.forEach((a, i) => {
        if (a === 0) return;
        own.forEach((b, j) => (product[i * size + j] = real(product, i * size + j) + a * b));
      });
    }
    return product;
  });
  const entry = (value: readonly number[], i: number, j: number): number => {
    let sum = 0;
    if (of === 'neighbours') {
      const [down = 0, along = 0, nugget = 1] = value;
      if (same(groups, i, j)) {
        sum = (1 - nugget) * down ** gap(at.rows, i, j) * along ** gap(at.columns, i, j);
      }
      if (i === j) sum += nugget;
    } else {
      spread.forEach((product, k) => (sum += num(value, k) * real(product, i * size + j)));
      if (i === j) sum += 1;
    }
    units.forEach((codes, k) => (sum += same(codes, i, j) ? num(value, 3 + k) : 0));
    return sum;
  };
  const trends = within(surface?.trends ?? []).filter((trend) =>
    trend.some((value) => value !== 0),
  );
  const all = Int32Array.from({ length: size }, (_, i) => i);
  const covariance = byPoint((point) => {
    const value = levels.map((one, k) => num(one, whole(point, k)));
    const v = Float64Array.from({ length: size * size }, (_, k) =>
      entry(value, Math.floor(k / size), k % size),
    );
    const factor = v.slice();
    if (!choleskyInPlace(factor, size)) {
      throw new Error('coarse covariance: a point of the grid is not positive definite');
    }
    return { v, inverse: inverseFromCholesky(factor, size), logDet: logDeterminant(factor, size) };
  });
  const cleaned = byPoint((point) => cleanBlock({ ...covariance(point), trends }, all));
  return { size, trends, at: covariance, cleaned };
}

/** Computes once for each point. */
function byPoint<T>(compute: (point: Int32Array) => T): (point: Int32Array) => T {
  const known = new Map<string, T>();
  return (point) => {
    const key = point.join(' ');
    const found = known.get(key) ?? compute(point);
    known.set(key, found);
    return found;
  };
}
