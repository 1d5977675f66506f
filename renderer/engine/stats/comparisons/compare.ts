import { alphaOf } from '../alpha';
import type { ComparisonRow, FitRequest, FitResult } from '../../../../shared-types/fit';
import { crossedName } from '../design';
import type { Design } from '../design';
import type { Qr } from '../linear';
import { estimableMeans, noErrorWarning } from '../means';
import type { GridMean } from '../means';
import type { FittedModel } from '../model';
import { compareFamily, randomisedRows, type Pair } from './familyRows';
import { compactLetters } from './letters';
import { Refusal } from '../../../words';
import { num, real } from '../../entry';

type Asked = FitRequest['compare'][number];
type ComparisonTable = FitResult['comparisons'][number];

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
