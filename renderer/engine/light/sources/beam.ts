import { cosineIntegral } from './cosineTable';
import { ruleOfAtLeast } from './quadrature';
import { Refusal } from '../../../words';
import { real } from '../../entry';

/** Exponent of a cosᵐ beam from the full angle between its half-peak directions (degrees). */
export function beamExponent(fullAngleDeg: number): number {
  if (!(fullAngleDeg > 0 && fullAngleDeg < 180)) {
    throw new Refusal(
      `beam angle ${fullAngleDeg}°: more than 0 and less than 180 degrees is expected`,
    );
  }
  const m = Math.log(0.5) / Math.log(Math.cos((fullAngleDeg * Math.PI) / 360));
  // 120° is Lambertian, for which there are closed forms; rounding must not hide it.
  return Math.abs(m - 1) < 1e-12 ? 1 : m;
}

/** Peak intensity over total flux of a cosᵐ beam (sr⁻¹): (m + 1) / 2π. */
export function peakPerFlux(m: number): number {
  return (m + 1) / (2 * Math.PI);
}

// Beyond this angle from the foot of the perpendicular cosᵏ has fallen below 1e-18.
function reach(k: number): number {
  return Math.acos(Math.min(1, Math.pow(10, -18 / k)));
}

// Nodes that bring the integral of cosᵏ over an angle within 1e-6 of itself, found by trial for
// beams of 10 to 175 degrees at distances of 1/60 to twice the length; narrow beams want more.
function nodesFor(angle: number, k: number): number {
  return 4.5 + angle * (2.6 + 1.2 * Math.sqrt(k));
}

/** `beamLine` made ready for one exponent: distance, c0, c1 and the ends x1, x2. */
export type BeamLine = (rho: number, c0: number, c1: number, x1: number, x2: number) => number;

// From here on (83 degrees) both ends lie in the faint tail, where a difference of two table values
// would be all rounding.
const TAIL = 1.45;

/**
 * ρᵐ ∫ (c0 + c1 x) / (ρ² + x²)^((m+3)/2) dx from x1 to x2, all in the same unit: a line of cosᵐ
 * elements seen from a point at distance ρ from it. With x = ρ tan φ the integrand becomes
 * (c0 cos φ + c1 ρ sin φ) cosᵐ φ / ρ², smooth at any distance; its first part is read off a table
 * of ∫ cosᵐ⁺¹, its second is −cosᵐ⁺¹/(m+1). Far beyond the end of the line Gauss–Legendre in φ.
 * (The factor ρᵐ keeps narrow beams, where m is large, within the range of a number.)
 */
export function beamLine(m: number): BeamLine {
  const k = m + 1;
  const integral = cosineIntegral(k);
  return (rho, c0, c1, x1, x2) => {
    const from = Math.atan(x1 / rho);
    const to = Math.atan(x2 / rho);
    if (from > TAIL || to < -TAIL) {
      return tailLine(from, to, m, c0, c1 * rho) / (rho * rho);
    }
    let sum = c0 * (integral(to) - integral(from));
    if (c1 !== 0) {
      sum += (c1 * rho * (Math.pow(Math.cos(from), k) - Math.pow(Math.cos(to), k))) / k;
    }
    return sum / (rho * rho);
  };
}

function tailLine(from: number, to: number, m: number, c0: number, slope: number): number {
  const half = (to - from) / 2;
  const middle = (to + from) / 2;
  const { nodes, weights } = ruleOfAtLeast(nodesFor(to - from, m + 1));
  let sum = 0;
  for (let i = 0; i < nodes.length; i++) {
    const angle = middle + half * real(nodes, i);
    const c = Math.cos(angle);
    sum += real(weights, i) * (c0 * c + slope * Math.sin(angle)) * Math.pow(c, m);
  }
  return sum * half;
}

/**
 * bᵐ ∫∫ (c0 + c1 x + c2 y) / (b² + x² + y²)^((m+3)/2) dx dy over a rectangle, the integrand taken as
 * zero where c0 + c1 x + c2 y is negative: a plate of cosᵐ elements seen from a point at distance
 * b from its plane. Along the plate `beamLine`; across it y = b tan ψ and Gauss–Legendre, with the
 * number of nodes chosen from the angle that its width fills, that is from distance over width.
 */
export function beamPlate(
  line: BeamLine,
  m: number,
  b: number,
  c: { c0: number; c1: number; c2: number },
  x: { from: number; to: number },
  y: { from: number; to: number },
): number {
  const limit = reach(m + 2);
  let yFrom = y.from;
  let yTo = y.to;
  if (c.c1 === 0 && c.c2 !== 0) {
    const cut = -c.c0 / c.c2;
    if (c.c2 > 0) yFrom = Math.max(yFrom, cut);
    else yTo = Math.min(yTo, cut);
  } else if (c.c1 === 0 && c.c0 <= 0) return 0;
  const from = Math.max(Math.atan(yFrom / b), -limit);
  const to = Math.min(Math.atan(yTo / b), limit);
  if (to <= from) return 0;
  const half = (to - from) / 2;
  const middle = (to + from) / 2;
  const { nodes, weights } = ruleOfAtLeast(nodesFor(to - from, m + 2));
  let sum = 0;
  for (let i = 0; i < nodes.length; i++) {
    const angle = middle + half * real(nodes, i);
    const cosine = Math.cos(angle);
    const here = b * Math.tan(angle);
    const c0 = c.c0 + c.c2 * here;
    const clip = litPart(c0, c.c1, x.from, x.to);
    if (clip === null) continue;
    const seen = line(b / cosine, c0, c.c1, clip.from, clip.to);
    sum += real(weights, i) * seen * Math.pow(cosine, m - 2);
  }
  return sum * half * b;
}

/** The part of from…to where c0 + c1 x is positive, or null. */
export function litPart(
  c0: number,
  c1: number,
  from: number,
  to: number,
): { from: number; to: number } | null {
  if (c1 === 0) return c0 > 0 ? { from, to } : null;
  const cut = -c0 / c1;
  const clipped = c1 > 0 ? { from: Math.max(from, cut), to } : { from, to: Math.min(to, cut) };
  return clipped.to > clipped.from ? clipped : null;
}
