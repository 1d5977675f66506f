import { alphaOf } from '../alpha';
import type { FitRequest } from '../../../../shared-types/fit';
import {
  dunnettQuantileUpper,
  dunnettUpper,
  studentizedRangeQuantileUpper,
  studentizedRangeUpper,
  tQuantileUpper,
  tTwoSided,
} from '../distributions';
import { num } from '../../entry';

export type ComparisonMethod = FitRequest['compare'][number]['method'];

/** What an adjustment needs to know of one comparison. */
export interface RawComparison {
  readonly statistic: number;
  readonly df: number;
}

export interface Adjusted {
  readonly p: number;
  /** Standard errors from the difference to either end of its interval. */
  readonly reach: number;
}

export interface Family {
  /** Number of means the comparisons are among. */
  readonly means: number;
  /** Dunnett's loadings, one a comparison; empty for the other methods. */
  readonly loadings: readonly number[];
}

/**
 * p values and interval half-widths of a family of comparisons.
 * - tukey: studentized range (Tukey–Kramer where numbers differ).
 * - dunnett: several treatments with one control.
 * - holm: p stepping down (Holm 1979); its intervals are Bonferroni's, which are simultaneous too.
 * - bonferroni, none.
 */
export function adjustFamily(
  method: ComparisonMethod,
  family: Family,
  raw: readonly RawComparison[],
  confidence: number,
): Adjusted[] {
  const alpha = alphaOf(confidence);
  const count = raw.length;
  // The range and Dunnett quantiles cost most, and the comparisons of a fit often share their df,
  // approximate ones up to rounding.
  const quantiles = new Map<number, number>();
  const quantile = (df: number, compute: (shared: number) => number): number => {
    const shared = Number.isFinite(df) ? Math.round(df * 1e11) / 1e11 || df : df;
    const known = quantiles.get(shared);
    if (known !== undefined) return known;
    const value = compute(shared);
    quantiles.set(shared, value);
    return value;
  };
  const single = raw.map(({ statistic, df }) => tTwoSided(statistic, df));
  const stepped = method === 'holm' ? holm(single) : [];
  return raw.map(({ statistic, df }, i) => {
    const p = single[i] ?? 1;
    switch (method) {
      case 'tukey':
        return {
          p: studentizedRangeUpper(Math.abs(statistic) * Math.SQRT2, family.means, df),
          reach:
            quantile(df, (shared) => studentizedRangeQuantileUpper(alpha, family.means, shared)) /
            Math.SQRT2,
        };
      case 'dunnett':
        return {
          p: dunnettUpper(Math.abs(statistic), family.loadings, df),
          reach: quantile(df, (shared) => dunnettQuantileUpper(alpha, family.loadings, shared)),
        };
      case 'holm':
        return { p: stepped[i] ?? 1, reach: tQuantileUpper(alpha / 2 / count, df) };
      case 'bonferroni':
        return { p: Math.min(1, p * count), reach: tQuantileUpper(alpha / 2 / count, df) };
      case 'none':
        return { p, reach: tQuantileUpper(alpha / 2, df) };
    }
  });
}

/** Holm's step-down adjustment of a list of p values, in its order. */
export function holm(p: readonly number[]): number[] {
  const order = [...p.keys()].sort((i, j) => num(p, i) - num(p, j));
  const adjusted = new Array<number>(p.length).fill(1);
  let running = 0;
  order.forEach((i, rank) => {
    running = Math.max(running, Math.min(1, num(p, i) * (p.length - rank)));
    adjusted[i] = running;
  });
  return adjusted;
}
