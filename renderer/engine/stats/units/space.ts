import type { UnitCodes } from '../design';
import { dot, factorise, isEstimable, selectColumns, unscaledCovariance } from '../linear';
import type { Qr } from '../linear';
import type { Matrix } from '../model';

/** What is left of a column beside its length when the units explain it. */
const EXPLAINED = 1e-9;

/** Least squares with the indicators of some units beside the fixed part. */
export interface AdjustedSpace {
  /** Rows less the rank of fixed part and indicators. */
  readonly df: number;
  readonly rss: number;
  /** Estimate of a combination of the fixed part's columns, and its variance over σ²; null: none. */
  combine(weights: Float64Array): { estimate: number; variance: number } | null;
  /** (XᵀMX)⁻ of the fixed part, M taking out the units. */
  unscaled(): Matrix;
  /** Sum of squares and df of the columns `own` after the columns `before`, of any other matrix. */
  added(x: Matrix, before: readonly number[], own: readonly number[]): { df: number; ss: number };
  /** Σ ‖what is left of each indicator of a unit‖². */
  leftOf(unit: UnitCodes): number;
  /** Residuals in the order of the rows. */
  residuals(): Float64Array;
}

/** Takes the units out of fixed part and response, which leaves least squares in what remains. */
export function adjustedSpace(
  x: Matrix,
  response: Float64Array,
  units: readonly UnitCodes[],
): AdjustedSpace {
  const n = x.rows;
  const outer = units.length > 0 ? factorise(indicators(units, n)) : null;
  const taken = outer?.rank ?? 0;
  const turn = (values: Float64Array): Float64Array => {
    const turned = values.slice();
    outer?.applyQt(turned);
    return turned.subarray(taken);
  };
  const y = turn(response);
  const inner = turnedColumns(x, turn);
  const qr = factorise(inner);
  const rotated = y.slice();
  qr.applyQt(rotated);
  const left = rotated.slice(qr.rank);
  const rss = dot(left, left);
  const gamma = qr.solveUpper(rotated);
  let inverse: Matrix | null = null;
  const unscaled = (): Matrix => (inverse ??= unscaledCovariance(qr, 1));
  return {
    df: n - taken - qr.rank,
    rss,
    unscaled,
    combine(weights) {
      if (!isEstimable(qr, weights)) return null;
      const own = Float64Array.from(qr.kept, (j) => weights[j] ?? 0);
      const half = qr.solveLower(own);
      return { estimate: dot(own, gamma), variance: dot(half, half) };
    },
    added(other, before, own) {
      const columns = [...before, ...own];
      const together = factorise(turnedColumns(selectColumns(other, columns), turn));
      const along = y.slice();
      together.applyQt(along);
      let df = 0;
      let ss = 0;
      together.kept.forEach((j, k) => {
        if (j < before.length) return;
        df++;
        ss += (along[k] ?? 0) ** 2;
      });
      return { df, ss };
    },
    leftOf: (unit) => leftOver(unit, turn, qr),
    residuals() {
      const rest = rotated.slice();
      rest.fill(0, 0, qr.rank);
      qr.applyQ(rest);
      const whole = new Float64Array(n);
      whole.set(rest, taken);
      outer?.applyQ(whole);
      return whole;
    },
  };
}

function indicators(units: readonly UnitCodes[], rows: number): Matrix {
  const columns = units.reduce((sum, unit) => sum + unit.levels, 0);
  const data = new Float64Array(rows * columns);
  let at = 0;
  for (const { codes, levels } of units) {
    for (let i = 0; i < rows; i++) data[i * columns + at + (codes[i] ?? 0)] = 1;
    at += levels;
  }
  return { rows, columns, data };
}

/** Each column turned; what the units explain of it all but rounding becomes zero. */
function turnedColumns(x: Matrix, turn: (values: Float64Array) => Float64Array): Matrix {
  const columns: Float64Array[] = [];
  for (let j = 0; j < x.columns; j++) {
    const column = Float64Array.from({ length: x.rows }, (_, i) => x.data[i * x.columns + j] ?? 0);
    const turned = turn(column);
    const explained = dot(turned, turned) <= EXPLAINED ** 2 * dot(column, column);
    columns.push(explained ? turned.fill(0) : turned);
  }
  const rows = columns[0]?.length ?? 0;
  const data = new Float64Array(rows * x.columns);
  columns.forEach((column, j) => {
    for (let i = 0; i < rows; i++) data[i * x.columns + j] = column[i] ?? 0;
  });
  return { rows, columns: x.columns, data };
}

function leftOver(
  { codes, levels }: UnitCodes,
  turn: (values: Float64Array) => Float64Array,
  qr: Qr,
): number {
  let sum = 0;
  for (let level = 0; level < levels; level++) {
    const left = turn(Float64Array.from(codes, (code) => Number(code === level))).slice();
    qr.applyQt(left);
    const free = left.subarray(qr.rank);
    sum += dot(free, free);
  }
  return sum;
}
