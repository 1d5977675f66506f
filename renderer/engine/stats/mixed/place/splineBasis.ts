import { choleskyInPlace, solveLowerRows, solveUpperRows } from '../cholesky';
import { num, real } from '../../../entry';

const DEGREE = 3;

/** Values of the B-splines of degree 3 on equal knots 0, 1, 2, … at one place (de Boor 1978). */
function bSplines(place: number, segments: number, out: Float64Array): void {
  const span = Math.min(segments - 1, Math.max(0, Math.floor(place)));
  out.fill(0);
  const values = [1];
  for (let degree = 1; degree <= DEGREE; degree++) {
    const next = new Array<number>(degree + 1).fill(0);
    values.forEach((value, j) => {
      // Spline j of degree − 1 starts at knot span − degree + 1 + j.
      const start = span - degree + 1 + j;
      const share = (start + degree - place) / degree;
      next[j] = num(next, j) + share * value;
      next[j + 1] = num(next, j + 1) + (1 - share) * value;
    });
    values.splice(0, values.length, ...next);
  }
  values.forEach((value, j) => {
    out[span + j] = value;
  });
}

/**
 * Curvature columns of a penalised spline (Eilers & Marx 1996, Statistical Science 11, 89–121):
 * cubic B-splines B on `segments` equal segments, second differences D penalised. In mixed-model
 * form Bα is a straight line plus Zu with u = Dα independent and Z = BDᵀ(DDᵀ)⁻¹ (Currie & Durbán
 * 2002, Statistical Modelling 2, 333–349).
 *
 * `places` are in segments from the start of the first; the result holds segments + 1 rows, one a
 * column of Z, each as long as `places`.
 */
export function curvatureColumns(places: Float64Array, segments: number): Float64Array {
  const n = places.length;
  const splines = segments + DEGREE;
  const bends = splines - 2;
  const gram = new Float64Array(bends * bends);
  const weights = [6, -4, 1];
  for (let i = 0; i < bends; i++) {
    for (let j = 0; j < bends; j++) gram[i * bends + j] = weights[Math.abs(i - j)] ?? 0;
  }
  choleskyInPlace(gram, bends);
  // One row a pot: DBᵀ, then (DDᵀ)⁻¹ of it.
  const rows = new Float64Array(n * bends);
  const values = new Float64Array(splines);
  places.forEach((place, i) => {
    bSplines(place, segments, values);
    for (let k = 0; k < bends; k++) {
      rows[i * bends + k] = real(values, k) - 2 * real(values, k + 1) + real(values, k + 2);
    }
  });
  solveLowerRows(gram, bends, rows, n);
  solveUpperRows(gram, bends, rows, n);
  const out = new Float64Array(bends * n);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < bends; k++) out[k * n + i] = real(rows, i * bends + k);
  }
  return out;
}
