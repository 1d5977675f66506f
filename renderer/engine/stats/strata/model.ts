import type { Design } from '../design';
import { dot, mean } from '../linear';
import type { Qr } from '../linear';
import type { Estimate, Matrix } from '../model';
import { split, type ErrorStratum } from './structure';
import { num, real } from '../../entry';

interface StratumModel {
  readonly coefficients: Float64Array;
  readonly covariance: Matrix;
  readonly variance: { unit: string; variance: number }[];
  estimate(weights: Float64Array): Estimate;
}

/**
 * Estimates in a design whose strata are orthogonal to its terms: least squares, whose variance
 * is the sum over strata of the squared length of its data weights there times the stratum's
 * error mean square; df by Satterthwaite (1946), exact within one stratum. The standard error is
 * NaN where a stratum it needs has no error df.
 */
export function stratumModel(
  design: Design,
  qr: Qr,
  strata: readonly ErrorStratum[],
  errors: readonly { readonly df: number; readonly ss: number }[],
): StratumModel {
  const { x, y } = design;
  const rotated = y.slice();
  qr.applyQt(rotated);
  const solved = qr.solveUpper(rotated);
  const coefficients = new Float64Array(x.columns).fill(NaN);
  qr.kept.forEach((j, k) => {
    coefficients[j] = solved[k] ?? NaN;
  });
  const ms = errors.map(({ df, ss }) => (df > 0 ? ss / df : NaN));
  const components = unitComponents(strata);
  const grand = grandMeanShares(strata, components);

  /** Multipliers of the strata's mean squares in cov(aᵀy, bᵀy), from a split over the strata. */
  const shares = (ofA: readonly Float64Array[], meanA: number, b: Float64Array): number[] => {
    const both = meanA * mean(b) * b.length;
    return ofA.map((part, s) => dot(part, b) + num(grand, s) * both);
  };
  const total = (multipliers: readonly number[]): number =>
    sumOver(multipliers, (share, s) => share * (ms[s] ?? NaN));
  const dataWeights = (weights: Float64Array): Float64Array => {
    const g = new Float64Array(x.rows);
    g.set(qr.solveLower(Float64Array.from(qr.kept, (j) => real(weights, j))));
    qr.applyQ(g);
    return g;
  };
  const covarianceWith = (left: Float64Array) => {
    const parts = split(strata, left);
    return (right: Float64Array): number => total(shares(parts, mean(left), right));
  };
  return {
    coefficients,
    covariance: covarianceBy(qr, x.columns, dataWeights, covarianceWith),
    variance: components.map((row, s) => ({
      unit: strata[s]?.unit ?? '',
      variance: total(row),
    })),
    estimate(weights): Estimate {
      const g = dataWeights(weights);
      const multipliers = shares(split(strata, g), mean(g), g);
      const variance = total(multipliers);
      const spread = sumOver(
        multipliers,
        (share, s) => (share * (ms[s] ?? NaN)) ** 2 / (errors[s]?.df ?? NaN),
      );
      const estimate = qr.kept.reduce((sum, j, k) => sum + real(weights, j) * real(solved, k), 0);
      return {
        estimate,
        se: Math.sqrt(Math.max(variance, 0)),
        df: spread > 0 ? variance ** 2 / spread : NaN,
      };
    },
  };
}

/** Sum over the strata that have a share; what is rounding has none. */
function sumOver(
  multipliers: readonly number[],
  of: (share: number, stratum: number) => number,
): number {
  const rounding = 1e-12 * Math.max(...multipliers.map((share) => Math.abs(share)));
  return multipliers.reduce(
    (sum, share, s) => (Math.abs(share) <= rounding ? sum : sum + of(share, s)),
    0,
  );
}

/** Covariance of the coefficients that are kept, from that of the data weights which give them. */
function covarianceBy(
  { kept }: Qr,
  p: number,
  dataWeights: (weights: Float64Array) => Float64Array,
  covarianceWith: (left: Float64Array) => (right: Float64Array) => number,
): Matrix {
  const giving = kept.map((j) => dataWeights(new Float64Array(p).fill(1, j, j + 1)));
  const data = new Float64Array(p * p);
  giving.forEach((left, a) => {
    const i = num(kept, a);
    const covariance = covarianceWith(left);
    giving.slice(0, a + 1).forEach((right, b) => {
      const j = num(kept, b);
      const value = covariance(right);
      data[i * p + j] = value;
      data[j * p + i] = value;
    });
  });
  return { rows: p, columns: p, data };
}

/**
 * The variance of each kind of unit as a combination of the strata's mean squares: the mean
 * square of a stratum expects Σ size × variance over its own unit and all finer ones.
 */
function unitComponents(strata: readonly ErrorStratum[]): number[][] {
  const rows = strata.map(() => new Array<number>(strata.length).fill(0));
  for (let s = strata.length - 1; s >= 0; s--) {
    const row = rows[s];
    const size = strata[s]?.size ?? 1;
    if (!row) continue;
    row[s] = 1;
    strata.forEach((finer, f) => {
      if (f === s || !finer.coarser.includes(s)) return;
      rows[f]?.forEach((value, k) => {
        row[k] = num(row, k) - finer.size * value;
      });
    });
    rows[s] = row.map((value) => value / size);
  }
  return rows;
}

/** Σ size × variance over all units, which is what the grand mean varies by a row. */
function grandMeanShares(
  strata: readonly ErrorStratum[],
  components: readonly (readonly number[])[],
): number[] {
  const shares = new Array<number>(strata.length).fill(0);
  strata.forEach((stratum, s) => {
    components[s]?.forEach((value, k) => {
      shares[k] = num(shares, k) + stratum.size * value;
    });
  });
  return shares;
}
