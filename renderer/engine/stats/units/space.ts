import type { UnitCodes } from '../design';
import {
  dot,
  factorise,
  fromColumns,
  isEstimable,
  selectColumns,
  unscaledCovariance,
} from '../linear';
import type { Qr } from '../linear';
import type { Matrix } from '../model';
import { refines } from '../strata';
import { add, real, whole } from '../../entry';

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

/** The same for any response: what rests on the layout alone is computed once. */
export interface UnitSpace {
  of(response: Float64Array): AdjustedSpace;
}

/** Takes the units out, which leaves least squares in what remains. */
interface Outer {
  /** Rank of the indicators. */
  readonly taken: number;
  turn(values: Float64Array): Float64Array;
  /** All columns turned. */
  turnAll(x: Matrix): Matrix;
  /** Residuals in turned form as they are over the rows. */
  back(turned: Float64Array): Float64Array;
}

/** Takes the units out of fixed part and response, which leaves least squares in what remains. */
export function unitSpace(x: Matrix, units: readonly UnitCodes[]): UnitSpace {
  const n = x.rows;
  const { taken, turn, turnAll, back } = outerOf(units, n);
  const inner = withoutExplained(turnAll(x), x);
  const qr = factorise(inner);
  const df = n - taken - qr.rank;
  // Of the fixed part only the rows of R matter to what its own columns add.
  const upper = fromColumns(
    Array.from({ length: inner.columns }, (_, j) => qr.coordinates(j)),
    qr.rank,
  );
  let inverse: Matrix | null = null;
  const unscaled = (): Matrix => (inverse ??= unscaledCovariance(qr, 1));
  const steps = new Map<string, Qr>();
  const inOrder = (columns: readonly number[]): Qr => {
    const key = columns.join(' ');
    const found = steps.get(key) ?? factorise(selectColumns(upper, columns));
    steps.set(key, found);
    return found;
  };
  return {
    of(response) {
      const y = turn(response);
      const rotated = y.slice();
      qr.applyQt(rotated);
      const left = rotated.slice(qr.rank);
      const gamma = qr.solveUpper(rotated);
      return {
        df,
        rss: dot(left, left),
        unscaled,
        combine(weights) {
          if (!isEstimable(qr, weights)) return null;
          const own = Float64Array.from(qr.kept, (j) => real(weights, j));
          const half = qr.solveLower(own);
          return { estimate: dot(own, gamma), variance: dot(half, half) };
        },
        added(other, before, own) {
          const columns = [...before, ...own];
          const ownPart = other === x;
          const together = ownPart
            ? inOrder(columns)
            : factorise(withoutExplained(turnAll(selectColumns(other, columns)), other, columns));
          const along = ownPart ? rotated.slice(0, qr.rank) : y.slice();
          together.applyQt(along);
          let added = 0;
          let ss = 0;
          together.kept.forEach((j, k) => {
            if (j < before.length) return;
            added++;
            ss += real(along, k) ** 2;
          });
          return { df: added, ss };
        },
        leftOf: (unit) => leftOver(unit, turn, qr),
        residuals() {
          const rest = rotated.slice();
          rest.fill(0, 0, qr.rank);
          qr.applyQ(rest);
          return back(rest);
        },
      };
    },
  };
}

/** Units that lie in one another are taken out by the means of the finest; others by their QR. */
function outerOf(units: readonly UnitCodes[], n: number): Outer {
  if (units.length === 0) {
    const same = <T>(value: T): T => value;
    return { taken: 0, turn: (values) => values.slice(), turnAll: same, back: same };
  }
  const finest = units.find((unit) => units.every((other) => refines(unit, other)));
  if (finest) return withoutMeans(finest);
  const outer = factorise(indicators(units, n));
  const turn = (values: Float64Array): Float64Array => {
    const turned = values.slice();
    outer.applyQt(turned);
    return turned.subarray(outer.rank);
  };
  return {
    taken: outer.rank,
    turn,
    turnAll: (x) =>
      fromColumns(
        Array.from({ length: x.columns }, (_, j) =>
          turn(Float64Array.from({ length: n }, (_, i) => real(x.data, i * x.columns + j))),
        ),
        n - outer.rank,
      ),
    back(turned) {
      const whole = new Float64Array(n);
      whole.set(turned, outer.rank);
      outer.applyQ(whole);
      return whole;
    },
  };
}

function withoutMeans({ codes, levels }: UnitCodes): Outer {
  const size = new Float64Array(levels);
  for (const code of codes) add(size, code, 1);
  const turnAll = ({ rows, columns, data }: Matrix): Matrix => {
    const means = new Float64Array(levels * columns);
    for (let i = 0; i < rows; i++) {
      const from = whole(codes, i) * columns;
      for (let j = 0; j < columns; j++) add(means, from + j, real(data, i * columns + j));
    }
    for (let unit = 0; unit < levels; unit++) {
      const pots = size[unit] || 1;
      for (let k = unit * columns; k < (unit + 1) * columns; k++) means[k] = real(means, k) / pots;
    }
    const turned = new Float64Array(data.length);
    for (let i = 0; i < rows; i++) {
      const from = whole(codes, i) * columns;
      for (let j = 0; j < columns; j++) {
        turned[i * columns + j] = real(data, i * columns + j) - real(means, from + j);
      }
    }
    return { rows, columns, data: turned };
  };
  return {
    taken: levels,
    turn: (values) => turnAll({ rows: values.length, columns: 1, data: values }).data,
    turnAll,
    back: (turned) => turned,
  };
}

function indicators(units: readonly UnitCodes[], rows: number): Matrix {
  const columns = units.reduce((sum, unit) => sum + unit.levels, 0);
  const data = new Float64Array(rows * columns);
  let at = 0;
  for (const { codes, levels } of units) {
    for (let i = 0; i < rows; i++) data[i * columns + at + whole(codes, i)] = 1;
    at += levels;
  }
  return { rows, columns, data };
}

/**
 * A turned matrix in which what the units explain of a column all but rounding becomes zero; `of` says
 * which columns of the matrix as it was those are.
 */
function withoutExplained(turned: Matrix, x: Matrix, of?: readonly number[]): Matrix {
  const { rows, columns, data } = turned;
  const lengths = (matrix: Matrix): Float64Array => {
    const sums = new Float64Array(matrix.columns);
    for (let i = 0; i < matrix.rows; i++) {
      for (let j = 0; j < matrix.columns; j++)
        add(sums, j, real(matrix.data, i * matrix.columns + j) ** 2);
    }
    return sums;
  };
  const whole = lengths(x);
  const left = lengths(turned);
  const gone = left.map((length, j) =>
    Number(length <= EXPLAINED ** 2 * real(whole, of?.[j] ?? j)),
  );
  if (!gone.includes(1)) return turned;
  const kept = data.slice();
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) if (gone[j] === 1) kept[i * columns + j] = 0;
  }
  return { rows, columns, data: kept };
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
