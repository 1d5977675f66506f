import { inverse, Matrix } from 'ml-matrix';
import { num } from '../../entry';

/** A surface fitted to values at scattered points, with each value's residual when left out. */
export interface Smooth {
  /** 0 interpolates; Infinity is a plane. */
  smoothing: number;
  at: (x: number, y: number) => number;
  leftOut: number[];
}

export interface SurfacePoint {
  x: number;
  y: number;
  value: number;
}

const kernel = (x: number, y: number) => {
  const r2 = x * x + y * y;
  return r2 === 0 ? 0 : (r2 * Math.log(r2)) / 2;
};

/**
 * Thin-plate spline r² log r with a plane, smoothing λ > 0 (Wahba 1990). The matrix
 * [K + λI, T; Tᵀ, 0] is inverted, so that the left-out residual of a value is its coefficient over
 * its diagonal element of the inverse. Coordinates of about unit size are expected.
 */
function thinPlate(sites: readonly SurfacePoint[], lambda: number): Smooth {
  const n = sites.length;
  const m = Matrix.zeros(n + 3, n + 3);
  sites.forEach((a, i) => {
    sites.forEach((b, j) => m.set(i, j, kernel(a.x - b.x, a.y - b.y) + (i === j ? lambda : 0)));
    [1, a.x, a.y].forEach((t, k) => {
      m.set(i, n + k, t);
      m.set(n + k, i, t);
    });
  });
  const inverted = inverse(m);
  const coefficients = Array.from({ length: n + 3 }, (_, i) =>
    sites.reduce((sum, site, j) => sum + inverted.get(i, j) * site.value, 0),
  );
  return {
    smoothing: lambda,
    at: (x, y) =>
      sites.reduce(
        (sum, site, i) => sum + num(coefficients, i) * kernel(x - site.x, y - site.y),
        num(coefficients, n) + num(coefficients, n + 1) * x + num(coefficients, n + 2) * y,
      ),
    leftOut: sites.map((_, i) => num(coefficients, i) / inverted.get(i, i)),
  };
}

function plane(sites: readonly SurfacePoint[]): Smooth {
  const t = new Matrix(sites.map((site) => [1, site.x, site.y]));
  const gram = inverse(t.transpose().mmul(t));
  const b = gram.mmul(t.transpose()).mmul(Matrix.columnVector(sites.map((s) => s.value)));
  const at = (x: number, y: number) => b.get(0, 0) + b.get(1, 0) * x + b.get(2, 0) * y;
  const hat = t.mmul(gram).mmul(t.transpose());
  return {
    smoothing: Infinity,
    at,
    leftOut: sites.map((s, i) => (s.value - at(s.x, s.y)) / (1 - hat.get(i, i))),
  };
}

function level(sites: readonly SurfacePoint[]): Smooth {
  const n = sites.length;
  const mean = sites.reduce((sum, site) => sum + site.value, 0) / n;
  return {
    smoothing: NaN,
    at: () => 0,
    leftOut: sites.map((site) => ((site.value - mean) * n) / Math.max(1, n - 1)),
  };
}

/** Determinant of the sites' scatter: 0 for sites on one line, through which no plane is fixed. */
function spread(sites: readonly SurfacePoint[]): number {
  const mx = sites.reduce((sum, s) => sum + s.x, 0) / sites.length;
  const my = sites.reduce((sum, s) => sum + s.y, 0) / sites.length;
  let [xx, xy, yy] = [0, 0, 0];
  for (const { x, y } of sites) {
    xx += (x - mx) ** 2;
    xy += (x - mx) * (y - my);
    yy += (y - my) ** 2;
  }
  return (xx * yy - xy * xy) / sites.length ** 2;
}

export const rootMeanSquare = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / Math.max(1, values.length));

/** Of more sites than this neighbours are taken as one. */
export const MOST_SITES = 64;
// Fewer sites than this say nothing about a surface.
const FEWEST_SITES = 6;
// A surface must pay for itself: this much off the left-out error of none at all.
const WORTH_IT = 0.9;
const LAMBDAS = Array.from({ length: 13 }, (_, i) => Math.pow(10, 1 - i / 2));

/**
 * The surface with the least left-out error among none at all, a plane and thin-plate splines over
 * a ladder of smoothings; a surface is taken only where it beats none clearly. `fixed` asks for
 * one smoothing (NaN: none; Infinity: the plane) without choosing. Of more than `most` sites the
 * surface goes through the means of neighbours, since its cost grows with the cube of their number.
 */
export function smoothSurface(
  sites: readonly SurfacePoint[],
  fixed?: number,
  most: number = MOST_SITES,
): Smooth {
  if (sites.length > most) return thinned(sites, fixed, most);
  const none = level(sites);
  if (sites.length < FEWEST_SITES || spread(sites) < 1e-5) return none;
  if (fixed !== undefined) {
    if (Number.isNaN(fixed)) return none;
    return fixed === Infinity ? plane(sites) : thinPlate(sites, fixed);
  }
  return best(none, [
    () => plane(sites),
    ...LAMBDAS.map((lambda) => () => thinPlate(sites, lambda)),
  ]);
}

/** The candidate that beats `none` clearly and all others, by left-out error. */
function best(none: Smooth, candidates: readonly (() => Smooth)[]): Smooth {
  let best = none;
  let error = WORTH_IT * rootMeanSquare(none.leftOut);
  // Below this the values are even already and only rounding is left.
  if (error < 1e-9) return none;
  for (const candidate of candidates) {
    const surface = candidate();
    const found = rootMeanSquare(surface.leftOut);
    if (found < error) {
      best = surface;
      error = found;
    }
  }
  return best;
}

/** Neighbours taken as one: their mean place and value, and which they are. */
interface Cell extends SurfacePoint {
  members: number[];
}

/** Sites by the cells of an even grid over them, at most `most` of them. */
function cellsOf(sites: readonly SurfacePoint[], most: number): Cell[] {
  const xs = sites.map(({ x }) => x);
  const ys = sites.map(({ y }) => y);
  const [left, front] = [Math.min(...xs), Math.min(...ys)];
  const width = Math.max(Math.max(...xs) - left, 1e-9);
  const depth = Math.max(Math.max(...ys) - front, 1e-9);
  const columns = Math.min(most, Math.max(1, Math.round(Math.sqrt((most * width) / depth))));
  const rows = Math.max(1, Math.floor(most / columns));
  const byCell = new Map<number, number[]>();
  sites.forEach(({ x, y }, i) => {
    const column = Math.min(columns - 1, Math.floor(((x - left) / width) * columns));
    const row = Math.min(rows - 1, Math.floor(((y - front) / depth) * rows));
    const key = row * columns + column;
    byCell.set(key, [...(byCell.get(key) ?? []), i]);
  });
  const mean = (members: readonly number[], of: readonly number[]) =>
    members.reduce((sum, i) => sum + num(of, i), 0) / members.length;
  const values = sites.map(({ value }) => value);
  return [...byCell.values()].map((members) => ({
    x: mean(members, xs),
    y: mean(members, ys),
    value: mean(members, values),
    members,
  }));
}

/**
 * A surface through the means of neighbours. A value is left out in closed form: its cell's mean has
 * the leverage h = 1 − (residual of the cell) / (its left-out residual), of which a value has its
 * share h / c among c, so that its own left-out residual is (value − surface) / (1 − h / c).
 */
function thinned(sites: readonly SurfacePoint[], fixed: number | undefined, most: number): Smooth {
  const none = level(sites);
  const cells = cellsOf(sites, most);
  if (cells.length < FEWEST_SITES || spread(cells) < 1e-5) return none;
  const spreadOut = (surface: Smooth): Smooth => {
    const leftOut = sites.map(() => 0);
    cells.forEach((cell, k) => {
      const whole = num(surface.leftOut, k);
      const h = whole === 0 ? 0 : 1 - (cell.value - surface.at(cell.x, cell.y)) / whole;
      for (const i of cell.members) {
        const site = sites[i];
        if (!site) continue;
        leftOut[i] = (site.value - surface.at(site.x, site.y)) / (1 - h / cell.members.length);
      }
    });
    return { ...surface, leftOut };
  };
  if (fixed !== undefined) {
    if (Number.isNaN(fixed)) return none;
    return spreadOut(fixed === Infinity ? plane(cells) : thinPlate(cells, fixed));
  }
  return best(none, [
    () => spreadOut(plane(cells)),
    ...LAMBDAS.map((lambda) => () => spreadOut(thinPlate(cells, lambda))),
  ]);
}
