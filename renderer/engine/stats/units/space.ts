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
import { real, whole } from '../../entry';

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

/** Takes the units out of a column, which leaves least squares in what remains. */
interface Outer {
  /** Rank of the indicators. */
  readonly taken: number;
  turn(values: Float64Array): Float64Array;
  /** Residuals in turned form as they are over the rows. */
  back(turned: Float64Array): Float64Array;
}

/** Takes the units out of fixed part and response, which leaves least squares in what remains. */
export function unitSpace(x: Matrix, units: readonly UnitCodes[]): UnitSpace {
  const n = x.rows;
  const { taken, turn, back } = outerOf(units, n);
  const inner = turnedColumns(x, turn);
  const qr = factorise(inner);
  const df = n - taken - qr.rank;
  // Of the fixed part only the rows of R matter to what its own columns add.
  const upper = fromColumns(
    Array.from({ length: inner.columns }, (_, j) => qr.coordinates(j)),
    qr.rank,
  );
  let inverse: Matrix | null = null;
  const unscaled = (): Matrix => (inverse ??= unscaledCovariance(qr, 1));
  // Term after term, response after response asks of the same few matrices.
  const own = new Map<Matrix, boolean>();
  const isOwn = (other: Matrix): boolean => {
    const found = own.get(other) ?? sameMatrix(other, x);
    own.set(other, found);
    return found;
  };
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
          const ownPart = isOwn(other);
          const together = ownPart
            ? inOrder(columns)
            : factorise(turnedColumns(selectColumns(other, columns), turn));
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
    return { taken: 0, turn: (values) => values.slice(), back: (turned) => turned };
  }
  const finest = units.find((unit) => units.every((other) => refines(unit, other)));
  if (finest) return withoutMeans(finest);
  const outer = factorise(indicators(units, n));
  return {
    taken: outer.rank,
    turn(values) {
      const turned = values.slice();
      outer.applyQt(turned);
      return turned.subarray(outer.rank);
    },
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
  for (const code of codes) size[code] = real(size, code) + 1;
  return {
    taken: levels,
    turn(values) {
      const sums = new Float64Array(levels);
      codes.forEach((code, i) => (sums[code] = real(sums, code) + real(values, i)));
      return values.map((value, i) => {
        const unit = whole(codes, i);
        return value - real(sums, unit) / (size[unit] ?? 1);
      });
    },
    back: (turned) => turned,
  };
}

function sameMatrix(a: Matrix, b: Matrix): boolean {
  return a === b || (a.columns === b.columns && a.data.every((value, i) => value === b.data[i]));
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

/** Each column turned; what the units explain of it all but rounding becomes zero. */
function turnedColumns(x: Matrix, turn: (values: Float64Array) => Float64Array): Matrix {
  const columns: Float64Array[] = [];
  for (let j = 0; j < x.columns; j++) {
    const column = Float64Array.from({ length: x.rows }, (_, i) => real(x.data, i * x.columns + j));
    const turned = turn(column);
    const explained = dot(turned, turned) <= EXPLAINED ** 2 * dot(column, column);
    columns.push(explained ? turned.fill(0) : turned);
  }
  const rows = columns[0]?.length ?? 0;
  const data = new Float64Array(rows * x.columns);
  columns.forEach((column, j) => {
    for (let i = 0; i < rows; i++) data[i * x.columns + j] = real(column, i);
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
