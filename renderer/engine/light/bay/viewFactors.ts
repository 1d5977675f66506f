/**
 * Diffuse exchange between rectangles (standard results; J. R. Howell's catalogue of configuration
 * factors: element to rectangle, C-13 and C-14 for offset rectangles). Lengths in any one unit.
 */

const TWO_PI = 2 * Math.PI;

/**
 * Corner term of an element facing a parallel rectangle at distance c, c² given; odd in x and y.
 * The factor of any rectangle is the sum over its corners, with alternating signs.
 */
export function parallelCorner(x: number, y: number, c2: number): number {
  const rx = Math.sqrt(c2 + x * x);
  const ry = Math.sqrt(c2 + y * y);
  if (rx === 0 || ry === 0) return 0;
  return ((x / rx) * Math.atan(y / rx) + (y / ry) * Math.atan(x / ry)) / TWO_PI;
}

/** Term of two parallel rectangles a distance c apart, offset by u and v; even in both. */
function parallelPair(u: number, v: number, c: number): number {
  const ru = Math.sqrt(u * u + c * c);
  const rv = Math.sqrt(v * v + c * c);
  return (
    (v * ru * Math.atan(v / ru) +
      u * rv * Math.atan(u / rv) -
      ((c * c) / 2) * Math.log(u * u + v * v + c * c)) /
    TWO_PI
  );
}

/** Term of two perpendicular rectangles: x and z from the edge they share, offset v along it. */
function cornerPair(x: number, z: number, v: number): number {
  const r2 = x * x + z * z;
  const r = Math.sqrt(r2);
  const whole = r2 + v * v;
  if (whole === 0) return 0;
  const turn = r === 0 ? 0 : v * r * Math.atan(v / r);
  return (turn - ((r2 - v * v) / 4) * Math.log(whole)) / TWO_PI;
}

/** −1, 2, −1: what is left of the four end terms of two equally long pieces. */
const SECOND = [-1, 2, -1] as const;

/**
 * Exchange area A₁F₁₂ of two equal parallel rectangles of du × dv, c apart, the second moved by u
 * and v against the first.
 */
export function parallelExchange(du: number, dv: number, c: number, u: number, v: number): number {
  let sum = 0;
  SECOND.forEach((wu, i) => {
    SECOND.forEach((wv, j) => {
      sum += wu * wv * parallelPair(u + (i - 1) * du, v + (j - 1) * dv, c);
    });
  });
  return sum;
}

/**
 * Exchange area of two perpendicular rectangles, both de long along the direction of the edge their
 * planes share and moved by v along it; from x1 to x2 and from z1 to z2 away from that edge.
 */
export function perpendicularExchange(
  de: number,
  v: number,
  x1: number,
  x2: number,
  z1: number,
  z2: number,
): number {
  let sum = 0;
  SECOND.forEach((w, i) => {
    const at = v + (i - 1) * de;
    sum -=
      w *
      (cornerPair(x2, z1, at) -
        cornerPair(x1, z1, at) -
        cornerPair(x2, z2, at) +
        cornerPair(x1, z2, at));
  });
  return sum;
}

interface Plate {
  fromMm: number;
  toMm: number;
  bottomMm: number;
  topMm: number;
}

/**
 * Exchange area of any two rectangles in parallel planes, c apart, their sides along the same axes
 * (Howell C-13 for unlike ones: the same term over all sixteen pairs of edges).
 */
export function rectangleExchange(a: Plate, b: Plate, c: number): number {
  const pairs = (a1: number, a2: number, b1: number, b2: number) =>
    [
      [a1 - b1, 1],
      [a1 - b2, -1],
      [a2 - b1, -1],
      [a2 - b2, 1],
    ] as const;
  let sum = 0;
  for (const [u, su] of pairs(a.fromMm, a.toMm, b.fromMm, b.toMm)) {
    for (const [v, sv] of pairs(a.bottomMm, a.topMm, b.bottomMm, b.topMm)) {
      sum += su * sv * parallelPair(u, v, c);
    }
  }
  return sum;
}
