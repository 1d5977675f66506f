import { alphaOf } from '../alpha';
import type { ComparisonRow, FitRequest, FitResult } from '../../../../shared-types/fit';
import { crossedName } from '../design';
import { tQuantileUpper } from '../distributions';
import type { Design } from '../design';
import type { Qr } from '../linear';
import { estimableMeans, noErrorWarning } from '../means';
import type { GridMean } from '../means';
import type { Estimate, FittedModel, Profile, RandomisedFamily } from '../model';
import { adjustFamily } from './adjust';
import { compactLetters } from './letters';
import { commonLoadings } from './loadings';
import { figures, Refusal } from '../../../words';
import { num, real } from '../../entry';

type Asked = FitRequest['compare'][number];
type ComparisonTable = FitResult['comparisons'][number];

interface Pair {
  readonly a: number;
  readonly b: number;
  readonly weights: Float64Array;
}

/** Beyond this miss of a correlation the Dunnett p values are said to be approximate. */
const NOTABLE_MISS = 0.005;

/**
 * Differences of adjusted means, a family for each combination of the `by` factors. Differences
 * are first minus second in the order of levels; with `against`, each level minus that one.
 * Letters are given where all pairs are compared; with `by` their keys are `level · by level`.
 */
export function compareMeans(
  model: FittedModel,
  design: Design,
  qr: Qr,
  asked: Asked,
  confidence: number,
): { table: ComparisonTable; warnings: string[] } {
  const of = asked.means;
  const shared = of.filter((name) => asked.by.includes(name));
  if (shared.length > 0) {
    throw new Refusal(`compare: ${shared.join(', ')} is named in means and in by; expected in one`);
  }
  const found = estimableMeans(design, qr, [...of, ...asked.by]);
  const warnings = [...found.warnings];
  const rows: ComparisonRow[] = [];
  // As entries: an assignment to a level called `__proto__` would be lost.
  const letters: [string, string][] = [];
  let randomised = false;
  for (const [within, means] of families(found.means, of, asked.by)) {
    const names = means.map((mean) => of.map((name) => mean.levels.get(name) ?? '').join(' · '));
    const against = controlName(asked, design, warnings);
    if (against !== null && !names.includes(against)) {
      warnings.push(
        `There are no comparisons of ${crossedName(of)} against ${against}${whereWords(within)}: ` +
          'its mean cannot be estimated.',
      );
      continue;
    }
    if (names.length < 2) continue;
    const listed = listPairs(means, against === null ? null : names.indexOf(against));
    const pairs = listed.filter((pair) => Number.isFinite(model.estimate(pair.weights).se));
    if (pairs.length < listed.length) {
      warnings.push(noErrorWarning(`Comparisons of ${crossedName(of)}`, model));
    }
    if (pairs.length === 0) continue;
    const weights = pairs.map((pair) => pair.weights);
    const drawn = model.randomised?.(of, weights, asked.method === 'none') ?? null;
    if (drawn) randomised = true;
    const family = drawn
      ? randomisedRows(drawn, asked.method, pairs, names, confidence)
      : compareFamily(model, asked.method, pairs, names, confidence, warnings);
    rows.push(...family.map((row) => (asked.by.length === 0 ? row : { ...row, within })));
    if (against !== null || pairs.length < listed.length) continue;
    const suffix = asked.by.map((name) => ` · ${within[name] ?? ''}`).join('');
    const own = lettersOf(model, means, names, pairs, family, alphaOf(confidence));
    letters.push(
      ...Object.entries(own).map(([name, text]): [string, string] => [name + suffix, text]),
    );
  }
  const table = {
    of: [...of],
    by: [...asked.by],
    method: asked.method,
    rows,
    letters: Object.fromEntries(letters),
    ...(randomised ? { randomised: true as const } : {}),
  };
  return { table, warnings: [...new Set(warnings)] };
}

function families(
  means: readonly GridMean[],
  of: readonly string[],
  by: readonly string[],
): [Record<string, string>, GridMean[]][] {
  const groups = new Map<string, [Record<string, string>, GridMean[]]>();
  for (const mean of means) {
    const within = Object.fromEntries(by.map((name) => [name, mean.levels.get(name) ?? '']));
    const key = JSON.stringify(Object.values(within));
    const group = groups.get(key) ?? [within, []];
    group[1].push(mean);
    groups.set(key, group);
  }
  if (of.length === 0) throw new Refusal('compare: no factor is named; expected at least one');
  return [...groups.values()];
}

function whereWords(within: Record<string, string>): string {
  const places = Object.entries(within).map(([name, level]) => `${name} ${level}`);
  return places.length > 0 ? ` within ${places.join(', ')}` : '';
}

/** The level that the others are compared with, or null for all pairs. */
function controlName(asked: Asked, design: Design, warnings: string[]): string | null {
  const { against, method } = asked;
  const of = crossedName(asked.means);
  let labels = [''];
  asked.means.forEach((name, k) => {
    const levels = design.factors.get(name)?.levels ?? [];
    labels = labels.flatMap((label) =>
      levels.map((level) => (k > 0 ? `${label} · ${level}` : level)),
    );
  });
  if (against === null) {
    if (method !== 'dunnett') return null;
    const first = labels[0] ?? '';
    warnings.push(`Comparisons of ${of} are against ${first}, as no other control is named.`);
    return first;
  }
  if (method === 'tukey') {
    throw new Refusal(
      `compare: found against "${against}" with tukey, which compares all pairs; expected ` +
        'dunnett, holm, bonferroni or none with a control',
    );
  }
  if (labels.includes(against)) return against;
  throw new Refusal(
    `compare: the control "${against}" is no level of ${of}; expected one of ${labels.join(', ')}`,
  );
}

function listPairs(means: readonly GridMean[], control: number | null): Pair[] {
  const pairs: Pair[] = [];
  means.forEach((one, a) => {
    means.forEach((other, b) => {
      if (control === null ? a >= b : b !== control || a === control) return;
      const weights = one.weights.map((weight, j) => weight - real(other.weights, j));
      pairs.push({ a, b, weights });
    });
  });
  return pairs;
}

function compareFamily(
  model: FittedModel,
  method: Asked['method'],
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
function randomisedRows(
  drawn: RandomisedFamily,
  method: Asked['method'],
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
        ...{ a: names[a] ?? '', b: names[b] ?? '', difference: estimate, se },
        lsd: se * (single.limit(alpha) ?? Infinity),
        ...{ df, statistic, p: reference.p(Math.abs(statistic)) },
        ...{ lower: estimate - reach, upper: estimate + reach },
      },
    ];
  });
}

/** Comparisons by profile likelihood, with the ones from estimate and error beside them. */
function byProfile(
  method: Asked['method'],
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

function lettersOf(
  model: FittedModel,
  means: readonly GridMean[],
  names: readonly string[],
  pairs: readonly Pair[],
  rows: readonly ComparisonRow[],
  alpha: number,
): Record<string, string> {
  const estimates = means.map(({ weights }) => (model.meanOf ?? model.estimate)(weights).estimate);
  const order = [...names.keys()].sort((i, j) => num(estimates, j) - num(estimates, i));
  const differing = new Set<string>();
  pairs.forEach(({ a, b }, i) => {
    if ((rows[i]?.p ?? 1) >= alpha) return;
    differing.add(`${a} ${b}`);
    differing.add(`${b} ${a}`);
  });
  return compactLetters(
    order.map((i) => names[i] ?? ''),
    (p, q) => differing.has(`${num(order, p)} ${num(order, q)}`),
  );
}
