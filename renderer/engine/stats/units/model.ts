import type { Design, UnitCodes } from '../design';
import { dot, quadraticForm, spaceOf } from '../linear';
import { fUpper } from '../distributions';
import type { Estimate, FittedModel, Matrix, TermTest } from '../model';
import type { MeanSquare, Spaces } from './spaces';
import { fromSumCoding, squaredLength } from './recode';
import { outermost, ownErrorTerm } from './structure';
import type { ErrorTerm } from './structure';
import { real } from '../../entry';

/** Parts of a comparison below this share of it are rounding. */
const ROUNDING = 1e-10;

export interface UnitsModel extends FittedModel {
  readonly covarianceFor: (weights: Float64Array) => Matrix;
  /** Whether nothing in a comparison (or in a mean, the general mean apart) falls on units. */
  fallsOnRows(weights: Float64Array): boolean;
}

/** One mean square's share in the variance of a comparison. */
interface Share {
  readonly error: MeanSquare;
  readonly share: number;
}

/**
 * Estimates under the unit rule. A comparison is taken apart by terms (in sum coding each part is
 * what one term adds). It is estimated by least squares with the units within which all its parts
 * vary, and its variance is that of least squares with σ² replaced by the mean squares of its parts,
 * each weighed by the part's share in the squared length of the comparison over all combinations of
 * levels: for a coarse factor at one of b levels of a finer one [MS_unit + (b − 1) MS_residual] / b.
 * A mean is the general mean plus a comparison with it; df are Satterthwaite's (1946).
 */
export function unitsModel(
  design: Design,
  units: readonly UnitCodes[],
  errors: readonly ErrorTerm[],
  spaces: Spaces,
  centre: number,
): UnitsModel {
  const p = design.columns.length;
  const t = fromSumCoding(design);
  const recoded = (weights: Float64Array): Float64Array =>
    Float64Array.from({ length: p }, (_, j) => {
      let sum = 0;
      for (let i = 0; i < p; i++) sum += real(t, i * p + j) * real(weights, i);
      return sum;
    });

  const split = (weights: Float64Array): Split =>
    splitByTerms(design, units, errors, weights, recoded(weights));
  const pooledOf = (parts: Split) => pooled(sharesOf(design, units, spaces, parts));

  const estimate = (weights: Float64Array): Estimate => {
    const parts = split(weights);
    const { u, isMean, varies } = parts;
    const { ms, df } = pooledOf(parts);
    const found = spaces.of(varies).combine(isMean ? u.slice().fill(0, 0, 1) : u);
    if (!isMean) {
      if (!found) return { estimate: NaN, se: NaN, df: NaN };
      return { estimate: found.estimate, se: Math.sqrt(found.variance * ms), df };
    }
    const plain = spaces.of([]);
    const general = plain.combine(u.slice().fill(0, 1));
    const whole = plain.combine(u);
    if (!found || !general || !whole) return { estimate: NaN, se: NaN, df: NaN };
    const value = general.estimate + real(u, 0) * centre + found.estimate;
    return { estimate: value, se: Math.sqrt(whole.variance * ms), df };
  };

  const covarianceFor = (weights: Float64Array): Matrix => {
    const c = spaces.of(split(weights).varies).unscaled();
    const rows = Array.from({ length: p }, (_, i) => t.subarray(i * p, (i + 1) * p));
    const half = rows.map((row) =>
      Float64Array.from({ length: p }, (_, j) => dot(row, c.data.subarray(j * p, (j + 1) * p))),
    );
    const data = new Float64Array(p * p);
    half.forEach((left, i) => {
      rows.forEach((right, j) => {
        data[i * p + j] = dot(left, right);
      });
    });
    return { rows: p, columns: p, data };
  };

  const coefficients = new Float64Array(p).fill(NaN);
  for (const j of spaceOf(design.x).kept) {
    coefficients[j] = estimate(new Float64Array(p).fill(1, j, j + 1)).estimate;
  }
  return {
    coefficients,
    get covariance() {
      return covarianceFor(new Float64Array(p));
    },
    covarianceFor,
    whyNoError:
      'units of the kind they rest on have no degrees of freedom left, so that nothing shows how ' +
      'such units differ when treated alike.',
    estimate,
    fallsOnRows: (weights) => split(weights).parts.every(({ error }) => error.unit === null),
    test(contrasts): TermTest {
      const row = contrasts.data.subarray(0, contrasts.columns);
      const { ms, df } = pooledOf(split(row));
      const { value, rank } = quadraticForm(contrasts, coefficients, covarianceFor(row));
      const statistic = value / ms / rank;
      const p = df > 0 ? fUpper(statistic, rank, df) : NaN;
      return { df: rank, dfError: df, statistic, kind: 'F', p };
    },
  };
}

/** A comparison or a mean, taken apart by terms in sum coding. */
interface Split {
  /** Its weights in sum coding, without parts that are rounding. */
  u: Float64Array;
  parts: { error: ErrorTerm; length: number }[];
  isMean: boolean;
  /** The units within which all its parts vary. */
  varies: UnitCodes[];
}

/** `u`: the weights in sum coding, of which what is rounding becomes 0. */
function splitByTerms(
  design: Design,
  units: readonly UnitCodes[],
  errors: readonly ErrorTerm[],
  weights: Float64Array,
  u: Float64Array,
): Split {
  const size = weights.reduce((most, weight) => Math.max(most, Math.abs(weight)), 0);
  const parts = design.terms.flatMap((term, i) => {
    const own = Float64Array.from(term.columns, (j) => real(u, j));
    if (own.every((weight) => Math.abs(weight) <= ROUNDING * size)) {
      for (const j of term.columns) u[j] = 0;
      return [];
    }
    const error = errors[i];
    return error ? [{ error, length: squaredLength(design, term.factors, own) }] : [];
  });
  const isMean = Math.abs(real(u, 0)) > ROUNDING * size;
  if (!isMean) u[0] = 0;
  const varies = units.filter((unit) => parts.every(({ error }) => error.varies.includes(unit)));
  return { u, parts, isMean, varies };
}

/** The share of each mean square in its variance. */
function sharesOf(
  design: Design,
  units: readonly UnitCodes[],
  spaces: Spaces,
  { u, parts, isMean }: Split,
): Share[] {
  const own = isMean ? squaredLength(design, [], Float64Array.of(real(u, 0))) : 0;
  const whole = parts.reduce((sum, { length }) => sum + length, own);
  const shares = parts.map(({ error, length }) => ({
    error: spaces.meanSquare(error),
    share: length / whole,
  }));
  if (!isMean) return shares;
  const outer = outermost(units);
  // What crossed units both hold of the residual counts once.
  const surplus = { unit: null, varies: units };
  return [
    ...shares,
    ...(outer.length === 0 ? [surplus] : outer.map((unit) => ownErrorTerm(unit, units))).map(
      (error) => ({ error: spaces.meanSquare(error), share: own / whole }),
    ),
    ...(outer.length > 1
      ? [{ error: spaces.meanSquare(surplus), share: ((1 - outer.length) * own) / whole }]
      : []),
  ];
}

/** The weighted mean square and its df; NaN where a part has no df. */
function pooled(shares: readonly Share[]): { ms: number; df: number } {
  const sums = new Map<string, { ms: number; df: number; share: number }>();
  for (const { error, share } of shares) {
    const key = `${error.unit} ${error.df} ${error.ms}`;
    const { ms, df } = error;
    sums.set(key, { ms, df, share: (sums.get(key)?.share ?? 0) + share });
  }
  let total = 0;
  let spread = 0;
  for (const { ms, df, share } of sums.values()) {
    total += share * ms;
    spread += (share * ms) ** 2 / df;
  }
  if (sums.size === 1) for (const { ms, df } of sums.values()) return { ms, df };
  return total > 0 ? { ms: total, df: total ** 2 / spread } : { ms: NaN, df: NaN };
}
