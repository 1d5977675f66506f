import { chiSquareUpper } from '../distributions';
import { estimateLinear, quadraticForm, unscaledCovariance } from '../linear';
import type { Estimate, FittedModel, Matrix, TermTest } from '../model';
import { finitePart } from './zeros';
import { negativeBinomial, poisson } from './families';
import type { CountFamily } from './families';
import { fitIrls } from './irls';
import type { CountsCore, CountsInput } from './irls';
import { profileOf } from './profile';
import { maximiseTheta, momentTheta, MOST_THETA } from './theta';
import { Refusal } from '../../../words';
import { real } from '../../entry';

export type CountsKind = 'poisson' | 'quasi-poisson' | 'negative-binomial';

export interface CountsFit extends FittedModel, CountsCore {
  readonly family: CountFamily;
  readonly residualDf: number;
  /** Σ (y − μ)² / variance. */
  readonly pearson: number;
  /** Pearson over df; for negative binomial counts θ. */
  readonly dispersion: number;
  /** What deviances are divided by: the Pearson dispersion where quasi-Poisson. */
  readonly scale: number;
  /** Akaike's criterion; null for quasi-Poisson, which has no likelihood. */
  readonly aic: number | null;
  /** Rows in which the fitted mean runs to zero: combinations with no other count. */
  readonly onlyZeros: readonly number[];
  readonly warnings: readonly string[];
}

/** Poisson, quasi-Poisson or negative binomial regression with a log link. */
export function fitCounts(input: CountsInput, kind: CountsKind): CountsFit {
  const { core, theta, family } = fitFamily(input, kind);
  const finite = finitePart(input, family, core, polishOf(kind));
  const { mu, weights, weighted, space, coefficients } = finite.core;
  const n = finite.y.length;
  const df = n - space.rank;
  if (df < 1) {
    throw new Refusal(
      `counts: ${space.rank} coefficients take up all ${n} rows that say how counts vary; at ` +
        'least one row more is expected',
    );
  }
  let pearson = 0;
  let spreadOfStep = 0;
  finite.y.forEach((value, i) => {
    const m = mu[i] ?? 1;
    pearson += (value - m) ** 2 / family.variance(m);
    spreadOfStep += real(weights, i) * (value / m - 1) ** 2;
  });
  const scale = kind === 'quasi-poisson' ? pearson / df : 1;
  // The covariance is that of the last step, with the dispersion about its weights.
  const inflation = kind === 'quasi-poisson' ? spreadOfStep / df : 1;
  const covariance = spread(unscaledCovariance(weighted, inflation), space.kept, input.x);
  const estimate = (combined: Float64Array): Estimate => {
    const found = estimateLinear(combined, coefficients, covariance, Infinity);
    return finite.holds(combined) ? found : { ...found, se: NaN };
  };
  const parameters = core.space.rank + (theta === null ? 0 : 1);
  return {
    ...core,
    coefficients,
    family,
    covariance,
    residualDf: df,
    pearson,
    dispersion: theta ?? pearson / df,
    scale,
    aic: kind === 'quasi-poisson' ? null : -2 * core.logLik + 2 * parameters,
    onlyZeros: finite.onlyZeros,
    whyNoError: 'some level has only zero counts, and the logarithm of zero has no finite value.',
    warnings: warningsOf(core, theta),
    estimate,
    profile(combined) {
      const found = estimate(combined);
      if (!Number.isFinite(found.se)) return null;
      const reference = kind === 'quasi-poisson' ? df : Infinity;
      const polish = polishOf(kind);
      const { deviance } = core;
      const { kept } = core.space;
      const fitted = { input, family, polish, kept, deviance, scale, df: reference };
      return profileOf(fitted, combined, found.estimate, found.se);
    },
    test(contrasts): TermTest {
      const { value, rank } = quadraticForm(contrasts, coefficients, covariance);
      const p = chiSquareUpper(value, rank);
      return { df: rank, dfError: Infinity, statistic: value, kind: 'chi-square', p };
    },
  };
}

/** Off the canonical link steps close in by a constant factor only: negative binomial takes more. */
export function polishOf(kind: CountsKind): number {
  return kind === 'negative-binomial' ? 10 : 1;
}

function fitFamily(
  input: CountsInput,
  kind: CountsKind,
): { core: CountsCore; theta: number | null; family: CountFamily } {
  const start = fitIrls(input, poisson);
  if (kind !== 'negative-binomial') return { core: start, theta: null, family: poisson };
  const polish = polishOf(kind);
  let core = start;
  let theta = maximiseTheta(input.y, core.mu, momentTheta(input.y, core.mu));
  for (let pass = 0; pass < 200; pass++) {
    core = fitIrls(input, negativeBinomial(theta), polish);
    const next = maximiseTheta(input.y, core.mu, theta);
    const change = Math.abs(Math.log(next / theta));
    theta = next;
    if (change < 1e-12) break;
  }
  const family = negativeBinomial(theta);
  return { core: fitIrls(input, family, polish), theta, family };
}

function spread(small: Matrix, kept: readonly number[], x: Matrix): Matrix {
  const p = x.columns;
  const data = new Float64Array(p * p);
  kept.forEach((i, a) => {
    kept.forEach((j, b) => {
      data[i * p + j] = real(small.data, a * small.columns + b);
    });
  });
  return { rows: p, columns: p, data };
}

function warningsOf(core: CountsCore, theta: number | null): string[] {
  const warnings: string[] = [];
  if (theta !== null && theta >= MOST_THETA) {
    warnings.push(
      'The counts vary no more than Poisson counts do, so θ has no finite estimate; the figures ' +
        'are those of a Poisson model.',
    );
  }
  if (!core.converged) warnings.push('The counts model did not settle; its figures are doubtful.');
  return warnings;
}
