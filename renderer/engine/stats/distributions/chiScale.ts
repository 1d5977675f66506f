import { stirlingError } from './gamma';

/**
 * ln density of u = ln s, where s² is chi-square over its degrees of freedom: the error standard
 * deviation of an analysis over the true one. The series keeps the digits when df is large.
 */
function logDensity(u: number, df: number): number {
  const v = 2 * u;
  let bend: number; // 2u + 1 − e^{2u}, negative on both sides of 0
  if (Math.abs(v) < 0.4) {
    let term = v;
    let sum = 0;
    for (let k = 2; k < 40; k++) {
      term *= v / k;
      const next = sum - term;
      if (next === sum) break;
      sum = next;
    }
    bend = sum;
  } else {
    bend = v - Math.expm1(v);
  }
  const a = df / 2;
  return Math.log(2) + 0.5 * Math.log(a / (2 * Math.PI)) - stirlingError(a) + a * bend;
}

/**
 * Expectation of a probability over the estimated error standard deviation:
 * ∫ conditional(s) f(s) ds on df degrees of freedom, by the trapezium rule in ln s, which
 * converges geometrically for such smooth, single-peaked integrands. Every term is positive, so
 * small results keep their digits.
 *
 * `peak`: a value of s near which the integrand is largest. `powerOfS`: how fast conditional
 * grows with s at most (its degree), which narrows the integrand.
 */
export function averageOverScale(
  df: number,
  conditional: (s: number) => number,
  peak: number,
  powerOfS: number,
): number {
  // Integrand ~ exp(a·u − b·e^{2u}), a = df + power: the error of step h is exp(−π²/(h² a)),
  // and, from the strip |Im u| < π/4 in which it decays, exp(−π²/(2h)).
  const h = Math.min(0.1, 0.4 / Math.sqrt(df + powerOfS));
  const centre = Math.log(peak);
  let largest = 0;
  const term = (u: number): number => {
    const value = Math.exp(logDensity(u, df)) * conditional(Math.exp(u));
    if (value > largest) largest = value;
    return value;
  };
  let sum = term(centre);
  for (const direction of [1, -1]) {
    let before = Infinity;
    for (let i = 1; i < 100_000; i++) {
      const value = term(centre + direction * i * h);
      sum += value;
      if (value <= before && value < 1e-18 * largest) break;
      before = value;
    }
  }
  return sum * h;
}
