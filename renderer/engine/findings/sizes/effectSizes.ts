import type { ComparisonRow, FitResult, TermRow } from '../../../../shared-types/fit';
import {
  chiSquareQuantile,
  chiSquareQuantileUpper,
  findRoot,
  noncentralTLower,
  noncentralTUpper,
  tUpper,
} from '../../stats/distributions';
import type { Findings } from '../findings';
import { isRatio, type ResponseScale } from '../model/scale';
import { mainComparison } from '../position/sensitivity';

/**
 * Share of the variation that a term explains of what it and its error make up: partial
 * η² = df F / (df F + error df) (Cohen 1973). null where the term has no F on finite df.
 */
export function partialEtaSquared(term: TermRow): number | null {
  if (term.kind !== 'F' || term.statistic === null || term.dfError === null) return null;
  const explained = term.df * term.statistic;
  return explained / (explained + term.dfError);
}

/** A figure with its interval; null ends: the data set no bound. */
export interface Sized {
  value: number;
  lower: number | null;
  upper: number | null;
}

/** A difference in other measures than the response's own unit. */
export interface EffectSize {
  /** Over the standard deviation among pots treated alike; null where that is not estimated. */
  standardised: Sized | null;
  /** In per cent of the second mean; null where that is not positive. */
  percent: Sized | null;
}

/**
 * `result` must be the fit that the row comes from, on the scale named. The standard deviation is
 * the residual one (means of counts have none among pots): pots treated alike in one unit, position and covariates allowed for. Every
 * interval is adjusted for the number of comparisons just as the row's own, and leaves out zero
 * exactly where that does.
 */
export function effectSize(
  result: FitResult,
  of: string,
  row: ComparisonRow,
  scale: ResponseScale = null,
  averaged: Findings['averaged'] = null,
): EffectSize {
  return {
    standardised: averaged ? null : standardised(result, of, row),
    percent: isRatio(scale)
      ? {
          value: 100 * Math.expm1(row.difference),
          lower: 100 * Math.expm1(row.lower),
          upper: 100 * Math.expm1(row.upper),
        }
      : scale === null
        ? percentOfSecond(result, of, row)
        : null,
  };
}

/** Effect sizes of the comparisons that the answer rests on, factor by factor. */
export function effectSizesOf(
  findings: Pick<Findings, 'primary' | 'design' | 'scale' | 'averaged'>,
): ({ of: string; a: string; b: string } & EffectSize)[] {
  const { result } = findings.primary;
  return findings.design.tested.flatMap((role) =>
    (mainComparison(result, role)?.rows ?? []).map((row) => ({
      of: role.factor.name,
      a: row.a,
      b: row.b,
      ...effectSize(result, role.column, row, findings.scale, findings.averaged),
    })),
  );
}

/** How many standard errors the row's interval reaches to either side. */
const reachOf = (row: ComparisonRow): number => (row.upper - row.lower) / 2 / row.se;

/**
 * Variance among pots treated alike. Where neighbouring pots are alike, a pot differs by what it
 * shares with its neighbours and by what is its own (the nugget). 0 where the model has none.
 */
export function potVariance({ residual, variance, spatial }: FitResult): number {
  if (spatial) return spatial.nugget + spatial.spatialVariance;
  return residual?.ms ?? variance.find(({ unit }) => unit === 'residual')?.variance ?? 0;
}

/**
 * Where the error of the comparison is that of pots, by noncentral t (Steiger & Fouladi 1997),
 * exact. Else from the intervals of difference and standard deviation, which are independent
 * (Donner & Zou 2012, Stat. Methods Med. Res. 21, 347–359, ratio of two estimates).
 */
function standardised(result: FitResult, of: string, row: ComparisonRow): Sized | null {
  const variance = potVariance(result);
  if (!(variance > 0)) return null;
  const sd = Math.sqrt(variance);
  const value = row.difference / sd;
  const df = result.residual?.df ?? null;
  const reach = reachOf(row);
  if (df === null || row.df === null || !(reach > 0) || !Number.isFinite(reach)) {
    return { value, lower: null, upper: null };
  }
  const tail = tUpper(reach, row.df);
  const amongPots = result.terms.find(({ term }) => term === of)?.stratum === 'residual';
  if (amongPots && Math.abs(row.df - df) < 1e-6) {
    const t = row.difference / row.se;
    const perUnit = row.se / sd;
    const { lower, upper } = noncentrality(t, df, tail, reach);
    return { value, lower: lower * perUnit, upper: upper * perUnit };
  }
  const sdEnds = [chiSquareQuantileUpper(tail, df), chiSquareQuantile(tail, df)].map((q) =>
    Math.sqrt((df * variance) / q),
  );
  const [lowSd = sd, highSd = sd] = sdEnds;
  // With so few df the standard deviation has no useful upper limit.
  if (!(highSd < 2 * sd)) return { value, lower: null, upper: null };
  const product = row.difference * sd;
  const root = (end: number, sdEnd: number) =>
    Math.sqrt(
      Math.max(0, product ** 2 - end * sdEnd * (2 * row.difference - end) * (2 * sd - sdEnd)),
    );
  // The formulae of the source hold for limits on either side of nothing.
  return {
    value,
    lower: (product - root(row.lower, highSd)) / (highSd * (2 * sd - highSd)),
    upper: (product + root(row.upper, lowSd)) / (lowSd * (2 * sd - lowSd)),
  };
}

/** Noncentralities at which a t as large, or as small, has the probability of one tail. */
function noncentrality(
  t: number,
  df: number,
  tail: number,
  reach: number,
): { lower: number; upper: number } {
  // Near the root by the normal approximation, for each value costs an integral.
  const around = reach * Math.sqrt(1 + t ** 2 / (2 * df));
  const solve = (f: (ncp: number) => number, near: number) => {
    let half = 0.1 + 0.05 * Math.abs(near);
    while (f(near - half) * f(near + half) > 0) half *= 3;
    return findRoot(f, near - half, near + half, 1e-9);
  };
  return {
    lower: solve((ncp) => noncentralTUpper(t, df, ncp) - tail, t - around),
    upper: solve((ncp) => noncentralTLower(t, df, ncp) - tail, t + around),
  };
}

/**
 * By Fieller's theorem (1954, J. R. Stat. Soc. B 16, 175–185) from the covariance of the two means:
 * its interval leaves out zero just where that of the difference does. Without bounds where the
 * second mean is itself not told from zero.
 */
function percentOfSecond(result: FitResult, of: string, row: ComparisonRow): Sized | null {
  const rows = result.means.find((m) => m.of.length === 1 && m.of[0] === of)?.rows;
  const a = rows?.find((r) => String(r[of]) === row.a);
  const b = rows?.find((r) => String(r[of]) === row.b);
  if (!a || !b || !(b.mean > 0)) return null;
  const value = (100 * row.difference) / b.mean;
  const q = reachOf(row) ** 2;
  const vb = b.se ** 2;
  // Of difference and second mean.
  const shared = (a.se ** 2 - row.se ** 2 - vb) / 2;
  const least = b.mean ** 2 - q * vb;
  if (!(least > 0) || !Number.isFinite(q)) return { value, lower: null, upper: null };
  const middle = row.difference * b.mean - q * shared;
  const rest = row.difference ** 2 - q * row.se ** 2;
  const root = Math.sqrt(Math.max(0, middle ** 2 - least * rest));
  return {
    value,
    lower: (100 * (middle - root)) / least,
    upper: (100 * (middle + root)) / least,
  };
}
