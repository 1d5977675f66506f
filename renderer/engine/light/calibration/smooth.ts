import { inverse, Matrix } from 'ml-matrix';

/** A surface fitted to values at scattered points, with each value's residual when left out. */
export interface Smooth {
  /** 0 interpolates; Infinity is a plane. */
  smoothing: number;
  at: (x: number, y: number) => number;
  leftOut: number[];
}

export interface Site {
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
function thinPlate(sites: readonly Site[], lambda: number): Smooth {
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
        (sum, site, i) => sum + (coefficients[i] ?? 0) * kernel(x - site.x, y - site.y),
        (coefficients[n] ?? 0) + (coefficients[n + 1] ?? 0) * x + (coefficients[n + 2] ?? 0) * y,
      ),
    leftOut: sites.map((_, i) => (coefficients[i] ?? 0) / inverted.get(i, i)),
  };
}

function plane(sites: readonly Site[]): Smooth {
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

function level(sites: readonly Site[]): Smooth {
  const n = sites.length;
  const mean = sites.reduce((sum, site) => sum + site.value, 0) / n;
  return {
    smoothing: NaN,
    at: () => 0,
    leftOut: sites.map((site) => ((site.value - mean) * n) / Math.max(1, n - 1)),
  };
}

/** Determinant of the sites' scatter: 0 for sites on one line, through which no plane is fixed. */
function spread(sites: readonly Site[]): number {
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

// Fewer sites than this say nothing about a surface.
const FEWEST_SITES = 6;
// A surface must pay for itself: this much off the left-out error of none at all.
const WORTH_IT = 0.9;
const LAMBDAS = Array.from({ length: 13 }, (_, i) => Math.pow(10, 1 - i / 2));

/**
 * The surface with the least left-out error among none at all, a plane and thin-plate splines over
 * a ladder of smoothings; a surface is taken only where it beats none clearly. `fixed` asks for
 * one smoothing (NaN: none; Infinity: the plane) without choosing.
 */
export function smoothSurface(sites: readonly Site[], fixed?: number): Smooth {
  const none = level(sites);
  if (sites.length < FEWEST_SITES || spread(sites) < 1e-5) return none;
  if (fixed !== undefined) {
    if (Number.isNaN(fixed)) return none;
    return fixed === Infinity ? plane(sites) : thinPlate(sites, fixed);
  }
  let best = none;
  let error = WORTH_IT * rootMeanSquare(none.leftOut);
  // Below this the values are even already and only rounding is left.
  if (error < 1e-9) return none;
  for (const surface of [plane(sites), ...LAMBDAS.map((lambda) => thinPlate(sites, lambda))]) {
    const found = rootMeanSquare(surface.leftOut);
    if (found < error) {
      best = surface;
      error = found;
    }
  }
  return best;
}
