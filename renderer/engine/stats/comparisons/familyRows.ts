import type { ComparisonRow, FitRequest } from '../../../../shared-types/fit';
import { alphaOf } from '../alpha';
import { tQuantileUpper } from '../distributions';
import type { Estimate, FittedModel, Profile, RandomisedFamily } from '../model';
import { adjustFamily } from './adjust';
import { commonLoadings } from './loadings';
import { figures } from '../../../words';

type Method = FitRequest['compare'][number]['method'];

/** Two means, by number, and the weights of their difference. */
export interface Pair {
  readonly a: number;
  readonly b: number;
  readonly weights: Float64Array;
}

/** Beyond this miss of a correlation the Dunnett p values are said to be approximate. */
const NOTABLE_MISS = 0.005;

/** Comparisons by estimate and error, or by the profile of the likelihood where there is one. */
export function compareFamily(
  model: FittedModel,
  method: Method,
  pairs: readonly Pair[],
  names: readonly string[],
  confidence: number,
  warnings: string[],
): ComparisonRow[] {
  const estimates = pairs.map((pair) => model.estimate(pair.weights));
  const raw = estimates.map(({ estimate, se, df }) => ({
    statistic: estimate === 0 ? 0 : estimate / se,
    df,
  }));
  let loadings: number[] = [];
  if (method === 'dunnett') {
    const common = commonLoadings(
      pairs.map((pair) => pair.weights),
      (pairs[0] && model.covarianceFor?.(pairs[0].weights)) ?? model.covariance,
    );
    loadings = common.loadings;
    if (common.miss > NOTABLE_MISS) {
      warnings.push(
        'The p values against the control are approximate: the differences are correlated in a ' +
          `way that one common share cannot express (largest miss ${figures(common.miss, 2)}).`,
      );
    }
  }
  // A family's joint distribution is that of differences over their errors; a single comparison is
  // free to take its likelihood.
  if (method === 'none' || pairs.length === 1) {
    const profiles = pairs.map((pair) => model.profile?.(pair.weights) ?? null);
    if (profiles.every((profile) => profile !== null)) {
      return byProfile(method, pairs, names, estimates, profiles, confidence);
    }
  }
  const adjusted = adjustFamily(method, { means: names.length, loadings }, raw, confidence);
  return pairs.map(({ a, b }, i) => {
    const { estimate, se, df } = estimates[i] ?? { estimate: 0, se: 0, df: 1 };
    const { p, reach } = adjusted[i] ?? { p: 1, reach: 0 };
    return {
      a: names[a] ?? '',
      b: names[b] ?? '',
      difference: estimate,
      se,
      lsd: se * tQuantileUpper((1 - confidence) / 2, df),
      df: Number.isFinite(df) ? df : null,
      statistic: raw[i]?.statistic ?? 0,
      p,
      lower: estimate - reach * se,
      upper: estimate + reach * se,
    };
  });
}

/**
 * Comparisons by layouts drawn anew: each in its own |t| where none are adjusted for the others, else
 * in the largest |t| of the family, whatever the adjustment, so that p and interval agree. Stepping
 * down (Westfall & Young 1993, Resampling-based multiple testing, algorithm 2.8) would find somewhat more
 * differences, but no interval leaves out zero exactly where it does.
 */
export function randomisedRows(
  drawn: RandomisedFamily,
  method: Method,
  pairs: readonly Pair[],
  names: readonly string[],
  confidence: number,
): ComparisonRow[] {
  const alpha = alphaOf(confidence);
  return pairs.flatMap(({ a, b }, i) => {
    const found = drawn.estimates[i];
    const single = drawn.single[i];
    if (!found || !single) return [];
    const { estimate, se, df } = found;
    const reference = method === 'none' ? single : drawn.largest;
    const statistic = estimate === 0 ? 0 : estimate / se;
    const reach = se * (reference.limit(alpha) ?? Infinity);
    return [
      {
        a: names[a] ?? '',
        b: names[b] ?? '',
        difference: estimate,
        se,
        lsd: se * (single.limit(alpha) ?? Infinity),
        df,
        statistic,
        p: reference.p(Math.abs(statistic)),
        lower: estimate - reach,
        upper: estimate + reach,
      },
    ];
  });
}

/** Comparisons by profile likelihood, with the ones from estimate and error beside them. */
function byProfile(
  method: Method,
  pairs: readonly Pair[],
  names: readonly string[],
  estimates: readonly Estimate[],
  profiles: readonly Profile[],
  confidence: number,
): ComparisonRow[] {
  return pairs.flatMap(({ a, b }, i) => {
    const found = estimates[i];
    const profile = profiles[i];
    if (!found || !profile) return [];
    const { estimate, se } = found;
    const family = { means: 2, loadings: [0] };
    const adjust = (statistic: number, df: number) =>
      adjustFamily(method, family, [{ statistic, df }], confidence)[0] ?? { p: 1, reach: 0 };
    const { p, reach } = adjust(profile.root, profile.df);
    const z = estimate === 0 ? 0 : estimate / se;
    const wald = adjust(z, found.df);
    return [
      {
        a: names[a] ?? '',
        b: names[b] ?? '',
        difference: estimate,
        se,
        lsd: se * tQuantileUpper((1 - confidence) / 2, profile.df),
        df: Number.isFinite(profile.df) ? profile.df : null,
        statistic: profile.root,
        p,
        lower: finiteOr(profile.limit(reach, -1), estimate - wald.reach * se),
        upper: finiteOr(profile.limit(reach, 1), estimate + wald.reach * se),
        wald: {
          statistic: z,
          p: wald.p,
          lower: estimate - wald.reach * se,
          upper: estimate + wald.reach * se,
        },
      },
    ];
  });
}

/** A likelihood that levels off has no limit on that side; the one by the error stands in. */
function finiteOr(value: number, other: number): number {
  return Number.isFinite(value) ? value : other;
}
