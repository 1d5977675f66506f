import { chiSquareQuantileUpper, findRoot } from '../distributions';
import { dot, spaceOf } from '../linear';
import type { Matrix } from '../model';
import { rounded, Refusal } from '../../../words';

export interface BoxCoxProfile {
  /** Power with the highest likelihood; 0 is the logarithm, 1 the measurement as it is. */
  power: number;
  /** Powers that the data do not speak against, at the given confidence. */
  lower: number;
  upper: number;
  /** Log-likelihood, less its maximum, over a grid of powers. */
  profile: { power: number; logLik: number }[];
}

const FROM = -3;
const TO = 3;
const STEP = 0.05;

/**
 * Profile likelihood of the power λ in (y^λ − 1)/λ, for a least-squares fit on `x` (Box & Cox 1964,
 * J. R. Stat. Soc. B 26, 211–252): −n/2 log RSS(λ) of the values divided by the geometric mean to
 * the power λ − 1. The interval is cut off where it falls by half the χ² quantile on 1 df, at most
 * −3 to 3. Throws on values that are not positive.
 */
export function boxCoxProfile(x: Matrix, y: Float64Array, confidence: number): BoxCoxProfile {
  const low = y.findIndex((value) => !(value > 0));
  if (low >= 0) {
    throw new Refusal(
      `power transformation: found the value ${y[low] ?? ''}; only positive ones are expected`,
    );
  }
  const n = y.length;
  const qr = spaceOf(x);
  const logs = y.map(Math.log);
  const meanLog = logs.reduce((sum, value) => sum + value, 0) / n;
  const relative = logs.map((log) => log - meanLog);
  const left = (values: Float64Array): Float64Array => {
    qr.applyQt(values);
    return values.subarray(qr.rank);
  };
  const logLik = (power: number): number => {
    // Over the geometric mean, so that no power overflows; the Jacobian is then in the scale.
    const rest = left(relative.map((r) => transformed(power, r)));
    return (-n / 2) * Math.log(dot(rest, rest));
  };
  /** Of the sign that the slope of the likelihood has. */
  const slope = (power: number): number =>
    -dot(
      left(relative.map((r) => transformed(power, r))),
      left(relative.map((r) => transformedSlope(power, r))),
    );
  const powers = Array.from({ length: Math.round((TO - FROM) / STEP) + 1 }, (_, i) =>
    rounded(FROM + i * STEP, 2),
  );
  const values = powers.map(logLik);
  const at = values.reduce((best, value, i) => (value > (values[best] ?? -Infinity) ? i : best), 0);
  const best = peak(
    slope,
    Math.max(FROM, FROM + (at - 1) * STEP),
    Math.min(TO, FROM + (at + 1) * STEP),
  );
  const top = logLik(best);
  const fall = chiSquareQuantileUpper(1 - confidence, 1) / 2;
  const edge = (to: number): number => {
    if (top - logLik(to) < fall) return to;
    return findRoot((power) => top - logLik(power) - fall, best, to);
  };
  return {
    power: best,
    lower: edge(FROM),
    upper: edge(TO),
    profile: powers.map((power, i) => ({ power, logLik: (values[i] ?? top) - top })),
  };
}

/** (y^λ − 1)/λ by r = log y; the logarithm where λ is 0. */
function transformed(power: number, r: number): number {
  return Math.abs(power) < 1e-8 ? r : Math.expm1(power * r) / power;
}

/** Its slope in λ: (r e^{λr} − (e^{λr} − 1)/λ)/λ, near 0 by its series. */
function transformedSlope(power: number, r: number): number {
  const p = power * r;
  if (Math.abs(p) < 1e-3) return r * r * (1 / 2 + p / 3 + (p * p) / 8 + p ** 3 / 30);
  return (r * Math.exp(p) - Math.expm1(p) / power) / power;
}

/** Highest point of a smooth hump between two powers, by its slope; an end where it has one sign. */
function peak(slope: (x: number) => number, from: number, to: number): number {
  if (!(slope(from) > 0)) return from;
  if (!(slope(to) < 0)) return to;
  return findRoot(slope, from, to);
}
