import { chiSquareUpper } from '../distributions';
import { estimateLinear, quadraticForm, unscaledCovariance } from '../linear';
import type { FittedModel, Matrix, TermTest } from '../model';
import { negativeBinomial, poisson } from './families';
import type { CountFamily } from './families';
import { fitIrls } from './irls';
import type { CountsCore, CountsInput } from './irls';
import { maximiseTheta, momentTheta, MOST_THETA } from './theta';

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
  readonly warnings: readonly string[];
}

/** Poisson, quasi-Poisson or negative binomial regression with a log link. */
export function fitCounts(input: CountsInput, kind: CountsKind): CountsFit {
  const { core, theta, family } = fitFamily(input, kind);
  const n = input.y.length;
  const df = n - core.space.rank;
  if (df < 1) {
    throw new Error(
      `counts: ${core.space.rank} coefficients take up all ${n} rows; at least one row more ` +
        'is expected, to measure how counts vary',
    );
  }
  let pearson = 0;
  let weighted = 0;
  input.y.forEach((value, i) => {
    const mu = core.mu[i] ?? 1;
    pearson += (value - mu) ** 2 / family.variance(mu);
    weighted += (core.weights[i] ?? 0) * (value / mu - 1) ** 2;
  });
  const scale = kind === 'quasi-poisson' ? pearson / df : 1;
  // The covariance is that of the last step, with the dispersion about its weights.
  const inflation = kind === 'quasi-poisson' ? weighted / df : 1;
  const covariance = spread(unscaledCovariance(core.weighted, inflation), core.space.kept, input.x);
  const { coefficients } = core;
  const parameters = core.space.rank + (theta === null ? 0 : 1);
  return {
    ...core,
    family,
    covariance,
    residualDf: df,
    pearson,
    dispersion: theta ?? pearson / df,
    scale,
    aic: kind === 'quasi-poisson' ? null : -2 * core.logLik + 2 * parameters,
    warnings: warningsOf(core, theta),
    estimate: (weights) => estimateLinear(weights, coefficients, covariance, Infinity),
    test(contrasts): TermTest {
      const { value, rank } = quadraticForm(contrasts, coefficients, covariance);
      const p = chiSquareUpper(value, rank);
      return { df: rank, dfError: Infinity, statistic: value, kind: 'chi-square', p };
    },
  };
}

/**
 * Steps after the deviance has settled. Off the canonical link they close in by a constant factor
 * only, so that negative binomial fits take a few more.
 */
export function polishFor(kind: CountsKind, input: CountsInput): number {
  return Math.max(input.polish ?? 0, kind === 'negative-binomial' ? 10 : 0);
}

function fitFamily(
  input: CountsInput,
  kind: CountsKind,
): { core: CountsCore; theta: number | null; family: CountFamily } {
  const start = fitIrls(input, poisson);
  if (kind !== 'negative-binomial') return { core: start, theta: null, family: poisson };
  const settled = { ...input, polish: polishFor(kind, input) };
  let core = start;
  let theta = maximiseTheta(input.y, core.mu, momentTheta(input.y, core.mu));
  for (let pass = 0; pass < 200; pass++) {
    core = fitIrls(settled, negativeBinomial(theta));
    const next = maximiseTheta(input.y, core.mu, theta);
    const change = Math.abs(Math.log(next / theta));
    theta = next;
    if (change < 1e-12) break;
  }
  const family = negativeBinomial(theta);
  return { core: fitIrls(settled, family), theta, family };
}

function spread(small: Matrix, kept: readonly number[], x: Matrix): Matrix {
  const p = x.columns;
  const data = new Float64Array(p * p);
  kept.forEach((i, a) => {
    kept.forEach((j, b) => {
      data[i * p + j] = small.data[a * small.columns + b] ?? 0;
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
  if (core.mu.some((mu) => mu < 1e-6)) {
    warnings.push(
      'Some combination has only zero counts: its mean on the log scale has no lower bound, and ' +
        'its standard error says nothing.',
    );
  }
  if (!core.converged) warnings.push('The counts model did not settle; its figures are doubtful.');
  return warnings;
}
