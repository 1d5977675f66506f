import { reportable, requireNumber, requireProbability } from './tails';

const ROOT_TWO_PI = 2.5066282746310005024;
const LOG_ROOT_TWO_PI = 0.91893853320467274178;

/** Density of the standard normal. */
export function normalDensity(x: number): number {
  return Math.exp(-0.5 * x * x) / ROOT_TWO_PI;
}

/** Φ(x) − ½ for |x| ≤ 0.67448975 (Cody 1969, rational Chebyshev approximations). */
function centre(x: number): number {
  const q = x * x;
  const up =
    (((0.065682337918207449113 * q + 2.2352520354606839287) * q + 161.02823106855587881) * q +
      1067.6894854603709582) *
      q +
    18154.981253343561249;
  const down =
    (((q + 47.20258190468824187) * q + 976.09855173777669322) * q + 10260.932208618978205) * q +
    45507.789335026729956;
  return (x * up) / down;
}

/** Q(x) / exp(−x²/2) for x > 0.67448975 (Cody 1969). */
function scaledTail(x: number): number {
  if (x <= 5.656854249492380195) {
    const up =
      (((((((1.0765576773720192317e-8 * x + 0.39894151208813466764) * x + 8.8831497943883759412) *
        x +
        93.506656132177855979) *
        x +
        597.27027639480026226) *
        x +
        2494.5375852903726711) *
        x +
        6848.1904505362823326) *
        x +
        11602.651437647350124) *
        x +
      9842.7148383839780218;
    const down =
      (((((((x + 22.266688044328115691) * x + 235.38790178262499861) * x + 1519.377599407554805) *
        x +
        6485.558298266760755) *
        x +
        18615.571640885098091) *
        x +
        34900.952721145977266) *
        x +
        38912.003286093271411) *
        x +
      19685.429676859990727;
    return up / down;
  }
  const q = 1 / (x * x);
  const up =
    ((((0.02307344176494017303 * q + 0.21589853405795699) * q + 0.1274011611602473639) * q +
      0.022235277870649807) *
      q +
      0.001421619193227893466) *
      q +
    2.9112874951168792e-5;
  const down =
    ((((q + 1.28426009614491121) * q + 0.468238212480865118) * q + 0.0659881378689285515) * q +
      0.00378239633202758244) *
      q +
    7.29751555083966205e-5;
  return (1 / ROOT_TWO_PI - (q * up) / down) / x;
}

/** exp(−x²/2), x² split so that its rounding does not spoil the far tail. */
function gaussian(x: number): number {
  const cut = Math.trunc(x * 16) / 16;
  const rest = (x - cut) * (x + cut);
  return Math.exp(-0.5 * cut * cut) * Math.exp(-0.5 * rest);
}

/** P(Z ≤ x) without the cut at 1e-300; for integrands. */
export function phi(x: number): number {
  const y = Math.abs(x);
  if (y <= 0.67448975) return 0.5 + centre(x);
  const tail = y > 39 ? 0 : gaussian(y) * scaledTail(y);
  return x < 0 ? tail : 1 - tail;
}

/** ln P(Z ≤ x), finite for every finite x. */
export function logPhi(x: number): number {
  if (x < -0.67448975) return -0.5 * x * x + Math.log(scaledTail(-x));
  return x > 5 ? Math.log1p(-phi(-x)) : Math.log(phi(x));
}

/** Φ(z) − Φ(z − w) for w ≥ 0, without cancellation. */
export function phiBetween(z: number, w: number): number {
  if (w > 0.2) return z > w / 2 ? phi(w - z) - phi(-z) : phi(z) - phi(z - w);
  // Taylor series about the middle: φ(m) w Σ He₂ₙ(m) (w/2)²ⁿ / (2n+1)!.
  const m = z - w / 2;
  const step = (w * w) / 4;
  let hermite = 1; // He₂ₙ
  let hermiteOdd = m; // He₂ₙ₊₁
  let scale = 1;
  let sum = 1;
  for (let n = 1; n < 12; n++) {
    hermite = m * hermiteOdd - (2 * n - 1) * hermite;
    hermiteOdd = m * hermite - 2 * n * hermiteOdd;
    scale *= step / (2 * n * (2 * n + 1));
    sum += hermite * scale;
  }
  return normalDensity(m) * w * sum;
}

/** P(Z ≤ x) of the standard normal. Below 1e-300 it is 0. */
export function normalLower(x: number): number {
  requireNumber('normalLower', 'x', x);
  return reportable(phi(x));
}

/** P(Z > x) of the standard normal. Below 1e-300 it is 0. */
export function normalUpper(x: number): number {
  requireNumber('normalUpper', 'x', x);
  return reportable(phi(-x));
}

/**
 * The x ≥ 0 with P(Z > x) = q, q ≤ ½: a rational start (Abramowitz & Stegun 26.2.23), then
 * Halley's steps on ln Q, which is nearly quadratic in x and so converges at once.
 */
function upperPoint(q: number): number {
  const logQ = Math.log(q);
  const r = Math.sqrt(-2 * logQ);
  let x =
    r -
    (2.515517 + r * (0.802853 + r * 0.010328)) /
      (1 + r * (1.432788 + r * (0.189269 + r * 0.001308)));
  for (let i = 0; i < 4; i++) {
    const logTail = logPhi(-x);
    // Hazard = −d ln Q / dx.
    const hazard = Math.exp(-0.5 * x * x - LOG_ROOT_TWO_PI - logTail);
    const gap = logTail - logQ;
    const step = gap / hazard;
    x += step / (1 + 0.5 * step * (hazard - x));
  }
  return x;
}

/** The x with P(Z ≤ x) = p; ∓Infinity at 0 and 1. */
export function normalQuantile(p: number): number {
  requireProbability('normalQuantile', p);
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  if (p === 0.5) return 0;
  return p < 0.5 ? -upperPoint(p) : upperPoint(1 - p);
}

/** The x with P(Z > x) = q. */
export function normalQuantileUpper(q: number): number {
  requireProbability('normalQuantileUpper', q);
  return 0 - normalQuantile(q);
}
