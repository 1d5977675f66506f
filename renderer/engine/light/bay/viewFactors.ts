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

type Place = readonly [number, number, number];

/**
 * Factor from a small element, its unit normal along an axis, to a rectangle that lies across an axis
 * (Howell B-3 where it is parallel, B-4 where it stands upright to the element): what of the element's
 * diffuse light meets the rectangle. What lies behind the element's plane does not count.
 */
export function elementToPatch(at: Place, normal: Place, one: Place, other: Place): number {
  const facing = ([0, 1, 2] as const).find((axis) => normal[axis] !== 0) ?? 2;
  const flat = ([0, 1, 2] as const).find((axis) => one[axis] === other[axis]) ?? 2;
  const sign = normal[facing] > 0 ? 1 : -1;
  const span = (axis: 0 | 1 | 2, from: number, turn: number): [number, number] => {
    const [a, b] = [turn * (one[axis] - from), turn * (other[axis] - from)];
    return [Math.min(a, b), Math.max(a, b)];
  };
  if (facing === flat) {
    const c = sign * (one[flat] - at[flat]);
    if (c < 0) return 0;
    const [p, q] = ([0, 1, 2] as const).filter((axis) => axis !== flat);
    const [u, v] = [span(p ?? 0, at[p ?? 0], 1), span(q ?? 1, at[q ?? 1], 1)];
    const corner = (x: number, y: number) => parallelCorner(x, y, Math.max(c, 1e-6) ** 2);
    return corner(u[1], v[1]) - corner(u[0], v[1]) - corner(u[1], v[0]) + corner(u[0], v[0]);
  }
  const a = Math.max(Math.abs(one[flat] - at[flat]), 1e-6);
  const along = ([0, 1, 2] as const).find((axis) => axis !== facing && axis !== flat) ?? 0;
  const b = span(along, at[along], 1);
  const h = span(facing, at[facing], sign).map((value) => Math.max(0, value));
  const term = (x: number, height: number) => {
    const r = Math.hypot(a, height);
    return (a / r) * Math.atan(x / r);
  };
  const [h1 = 0, h2 = 0] = h;
  return (term(b[1], h1) - term(b[0], h1) - term(b[1], h2) + term(b[0], h2)) / TWO_PI;
}
