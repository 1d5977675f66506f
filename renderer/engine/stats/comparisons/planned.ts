import { alphaOf } from '../alpha';
import type { ContrastRow, FitRequest } from '../../../../shared-types/fit';
import type { Design } from '../design';
import { tQuantileUpper, tTwoSided } from '../distributions';
import { isEstimable } from '../linear';
import type { Qr } from '../linear';
import { gridMeans, noErrorWarning } from '../means';
import type { FittedModel } from '../model';
import { Refusal } from '../../../words';
import { num, real } from '../../entry';

type Asked = FitRequest['contrasts'][number];

/**
 * A comparison stated in advance: Σ weight × adjusted mean over the levels of one factor, with its
 * standard error, t and interval. Nothing is adjusted for the number of contrasts, because they
 * were fixed before the data were seen. Throws on weights that do not sum to zero and on levels
 * that the data lack; what cannot be estimated becomes a warning.
 */
export function plannedContrast(
  model: FittedModel,
  design: Design,
  qr: Qr,
  asked: Asked,
  confidence: number,
): { row: ContrastRow | null; warnings: string[] } {
  const means = gridMeans(design, [asked.of]);
  const known = means.map((mean) => mean.levels.get(asked.of) ?? '');
  const stranger = Object.keys(asked.weights).find((level) => !known.includes(level));
  if (stranger !== undefined) {
    throw new Refusal(
      `contrast "${asked.name}": found the level "${stranger}" of ${asked.of}; expected one of ` +
        known.join(', '),
    );
  }
  const shares = known.map((level) => asked.weights[level] ?? 0);
  const size = shares.reduce((sum, weight) => sum + Math.abs(weight), 0);
  const sum = shares.reduce((total, weight) => total + weight, 0);
  if (!(size > 0) || Math.abs(sum) > 1e-9 * size) {
    throw new Refusal(
      `contrast "${asked.name}": its weights sum to ${sum}; expected 0, and some that are not 0`,
    );
  }
  const weights = new Float64Array(design.x.columns);
  means.forEach((mean, i) => {
    mean.weights.forEach((weight, j) => {
      weights[j] = real(weights, j) + num(shares, i) * weight;
    });
  });
  // Parts that cancel leave rounding, which must not count as weight on an aliased column.
  weights.forEach((weight, j) => {
    if (Math.abs(weight) < 1e-12 * size) weights[j] = 0;
  });
  if (!isEstimable(qr, weights)) {
    return {
      row: null,
      warnings: [`The contrast ${asked.name} cannot be estimated from these data.`],
    };
  }
  const drawn = model.randomised?.([asked.of], [weights], true) ?? null;
  const { estimate, se, df } = drawn?.estimates[0] ?? model.estimate(weights);
  if (!Number.isFinite(se)) {
    return { row: null, warnings: [noErrorWarning(`Contrasts (${asked.name})`, model)] };
  }
  const statistic = estimate === 0 ? 0 : estimate / se;
  const quantile = drawn
    ? (drawn.largest.limit(alphaOf(confidence)) ?? Infinity)
    : tQuantileUpper((1 - confidence) / 2, df);
  const reach = se * quantile;
  return {
    row: {
      name: asked.name,
      of: asked.of,
      estimate,
      se,
      df: Number.isFinite(df) ? df : null,
      statistic,
      p: drawn ? drawn.largest.p(Math.abs(statistic)) : tTwoSided(statistic, df),
      lower: estimate - reach,
      upper: estimate + reach,
    },
    warnings: [],
  };
}
