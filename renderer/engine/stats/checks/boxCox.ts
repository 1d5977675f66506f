import { chiSquareQuantileUpper } from '../distributions';
import { factorise } from '../linear';
import type { Matrix } from '../model';
import { rounded, Refusal } from '../../../words';
import { real } from '../../entry';

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
  const qr = factorise(x);
  const logs = y.map(Math.log);
  const meanLog = logs.reduce((sum, value) => sum + value, 0) / n;
  const logLik = (power: number): number => {
    // Over the geometric mean, so that no power overflows; the Jacobian is then in the scale.
    const z = logs.map((log) => {
      const relative = log - meanLog;
      return Math.abs(power) < 1e-8 ? relative : Math.expm1(power * relative) / power;
    });
    qr.applyQt(z);
    let rss = 0;
    for (let i = qr.rank; i < n; i++) rss += real(z, i) ** 2;
    return (-n / 2) * Math.log(rss);
  };
  const powers = Array.from({ length: Math.round((TO - FROM) / STEP) + 1 }, (_, i) =>
    rounded(FROM + i * STEP, 2),
  );
  const values = powers.map(logLik);
  const at = values.reduce((best, value, i) => (value > (values[best] ?? -Infinity) ? i : best), 0);
  const best = peak(
    logLik,
    Math.max(FROM, FROM + (at - 1) * STEP),
    Math.min(TO, FROM + (at + 1) * STEP),
  );
  const top = logLik(best);
  const fall = chiSquareQuantileUpper(1 - confidence, 1) / 2;
  const edge = (to: number): number => {
    if (top - logLik(to) < fall) return to;
    let [inside, outside] = [best, to];
    for (let i = 0; i < 60; i++) {
      const middle = (inside + outside) / 2;
      if (top - logLik(middle) < fall) inside = middle;
      else outside = middle;
    }
    return inside;
  };
  return {
    power: best,
    lower: edge(FROM),
    upper: edge(TO),
    profile: powers.map((power, i) => ({ power, logLik: (values[i] ?? top) - top })),
  };
}

/** Highest point of a smooth hump between two powers, by golden section. */
function peak(f: (x: number) => number, from: number, to: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [from, to];
  for (let i = 0; i < 60; i++) {
    const [c, d] = [b - golden * (b - a), a + golden * (b - a)];
    if (f(c) > f(d)) b = d;
    else a = c;
  }
  return (a + b) / 2;
}
