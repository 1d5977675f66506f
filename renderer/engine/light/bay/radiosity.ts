import type { Reflectances } from '../../../../shared-types/rack';
import { FACES, type BayBox } from './box';
import { Refusal } from '../../../words';
import { add, num, real } from '../../entry';

/** Reflectance of every patch from that of its face. An open side reflects nothing. */
export function reflectanceOfPatches(box: BayBox, reflectances: Reflectances): Float64Array {
  const rho = new Float64Array(box.count);
  for (const face of FACES) {
    const grid = box.faces[face];
    const value = reflectances[face];
    if (!(value >= 0 && value <= 1)) {
      throw new Refusal(`reflectance of ${face}: ${value}; a share from 0 to 1 is expected`);
    }
    rho.fill(value, grid.first, grid.first + grid.across * grid.up);
  }
  return rho;
}

/** What leaves and what arrives at each patch, per area, in the unit of what was emitted. */
export interface Radiosity {
  leaving: Float64Array;
  arriving: Float64Array;
}

/** Patches of a box, from the first up to the last, without it. */
export type PatchRange = readonly [from: number, upTo: number];

/**
 * Σⱼ AᵢFᵢⱼ xⱼ / Aᵢ: what arrives at each patch from what leaves all of them; 0 outside the ranges that
 * are asked for.
 */
export function arrivingFrom(
  box: BayBox,
  leaving: Float64Array,
  at: readonly PatchRange[] = [[0, box.count]],
): Float64Array {
  const { count, exchange, areaM2 } = box;
  const arriving = new Float64Array(count);
  // The exchange is symmetric: row by row of the patches that give off light, four in one pass, each
  // patch still adding them up in their order.
  const rows = Array.from(leaving.keys()).filter((j) => real(leaving, j) !== 0);
  let k = 0;
  for (; k + 3 < rows.length; k += 4) {
    const [p, q, r, t] = [num(rows, k), num(rows, k + 1), num(rows, k + 2), num(rows, k + 3)];
    const [a, b, c, d] = [real(leaving, p), real(leaving, q), real(leaving, r), real(leaving, t)];
    const [ap, bq, cr, dt] = [p * count, q * count, r * count, t * count];
    for (const [from, upTo] of at) {
      for (let i = from; i < upTo; i++) {
        arriving[i] =
          real(arriving, i) +
          real(exchange, ap + i) * a +
          real(exchange, bq + i) * b +
          real(exchange, cr + i) * c +
          real(exchange, dt + i) * d;
      }
    }
  }
  for (; k < rows.length; k++) {
    const j = num(rows, k);
    const [row, given] = [j * count, real(leaving, j)];
    for (const [from, upTo] of at) {
      for (let i = from; i < upTo; i++)
        arriving[i] = real(arriving, i) + real(exchange, row + i) * given;
    }
  }
  for (let i = 0; i < count; i++) arriving[i] = real(arriving, i) / real(areaM2, i);
  return arriving;
}

/** Throws for a closed bay that absorbs nothing: its light has no steady state. */
export function refuseLossless(reflectance: Float64Array): void {
  if (reflectance.every((rho) => rho === 1)) {
    throw new Refusal('every face of the bay reflects all light: one that absorbs is expected');
  }
}

/** The patches of a bay that reflect, with what passes between them. */
interface Reflecting {
  lit: Int32Array;
  /** The same as ranges. */
  ranges: PatchRange[];
  diagonal: Float64Array;
  exchange: Float64Array;
}

// A bay is solved for one set of lamps after another: what does not change with them is kept.
const prepared = new WeakMap<BayBox, { reflectance: Float64Array; reflecting: Reflecting }[]>();
const MOST_PREPARED = 6;

/** Patches in ascending order as ranges. */
function rangesOf(patches: Int32Array): PatchRange[] {
  const ranges: [number, number][] = [];
  for (const at of patches) {
    const last = ranges.at(-1);
    if (last?.[1] === at) last[1] = at + 1;
    else ranges.push([at, at + 1]);
  }
  return ranges;
}

function reflectingOf(box: BayBox, reflectance: Float64Array): Reflecting {
  const of = prepared.get(box) ?? [];
  const known = of.find((one) => one.reflectance.every((rho, i) => rho === reflectance[i]));
  if (known) return known.reflecting;
  const { count, areaM2 } = box;
  const lit = Int32Array.from(reflectance.keys()).filter((i) => real(reflectance, i) > 0);
  const n = lit.length;
  const diagonal = Float64Array.from(lit, (i) => real(areaM2, i) / real(reflectance, i));
  const exchange = new Float64Array(n * n);
  lit.forEach((i, k) => {
    lit.forEach((j, l) => {
      exchange[k * n + l] = real(box.exchange, i * count + j);
    });
  });
  const reflecting = { lit, ranges: rangesOf(lit), diagonal, exchange };
  of.unshift({ reflectance: Float64Array.from(reflectance), reflecting });
  of.length = Math.min(of.length, MOST_PREPARED);
  prepared.set(box, of);
  return reflecting;
}

/**
 * Diffuse grey inter-reflection B = M + ρ F B (trade sheet 1.6): `emitted` M is what each patch
 * gives off by itself (for light of lamps: ρ times what falls on it directly). Solved over the
 * reflecting patches in the symmetric form (A/ρ) B − A F B = (A/ρ) M by conjugate gradients,
 * scaled by the diagonal. What arrives is told of the patches that are asked for, or of all. Throws for a
 * closed bay that absorbs nothing.
 */
export function solveRadiosity(
  box: BayBox,
  reflectance: Float64Array,
  emitted: Float64Array,
  at?: readonly PatchRange[],
): Radiosity {
  refuseLossless(reflectance);
  const { areaM2 } = box;
  const { lit, ranges, diagonal, exchange } = reflectingOf(box, reflectance);
  // Light that black patches give off is known and moves to the right-hand side.
  const black = emitted.map((m, i) => (real(reflectance, i) === 0 ? m : 0));
  const fromBlack = black.every((value) => value === 0) ? black : arrivingFrom(box, black, ranges);
  const right = Float64Array.from(
    lit,
    (i, k) => real(diagonal, k) * real(emitted, i) + real(areaM2, i) * real(fromBlack, i),
  );
  const solved = conjugateGradients(diagonal, exchange, right);
  const leaving = Float64Array.from(black);
  lit.forEach((i, k) => {
    leaving[i] = real(solved, k);
  });
  return { leaving, arriving: arrivingFrom(box, leaving, at) };
}

const dot = (a: Float64Array, b: Float64Array) => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += real(a, i) * real(b, i);
  return sum;
};

/**
 * (diag(d) − S) x. Four rows go side by side, because a sum waits for each of its steps; each row is
 * summed in its own order, so that the figures are those of row after row.
 */
function imageOf(diagonal: Float64Array, s: Float64Array, x: Float64Array, into: Float64Array) {
  const n = diagonal.length;
  const startOf = (i: number) => real(diagonal, i) * real(x, i);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const [p, q, r, t] = [i * n, (i + 1) * n, (i + 2) * n, (i + 3) * n];
    let [a, b, c, d] = [startOf(i), startOf(i + 1), startOf(i + 2), startOf(i + 3)];
    for (let j = 0; j < n; j++) {
      const value = real(x, j);
      a -= real(s, p + j) * value;
      b -= real(s, q + j) * value;
      c -= real(s, r + j) * value;
      d -= real(s, t + j) * value;
    }
    into[i] = a;
    into[i + 1] = b;
    into[i + 2] = c;
    into[i + 3] = d;
  }
  for (; i < n; i++) {
    let sum = startOf(i);
    for (let j = 0; j < n; j++) sum -= real(s, i * n + j) * real(x, j);
    into[i] = sum;
  }
}

/** Solves (diag(d) − S) x = r for symmetric S, positive definite; stops at 1e-11 of the start. */
function conjugateGradients(
  diagonal: Float64Array,
  s: Float64Array,
  right: Float64Array,
): Float64Array {
  const n = diagonal.length;
  const x = new Float64Array(n);
  const residual = Float64Array.from(right);
  const scaled = residual.map((r, i) => r / (diagonal[i] ?? 1));
  const direction = Float64Array.from(scaled);
  const image = new Float64Array(n);
  let size = dot(residual, scaled);
  const enough = size * 1e-22;
  for (let step = 0; step < 10 * n + 100 && size > enough; step++) {
    imageOf(diagonal, s, direction, image);
    const along = size / dot(direction, image);
    for (let i = 0; i < n; i++) {
      add(x, i, along * real(direction, i));
      residual[i] = real(residual, i) - along * real(image, i);
      scaled[i] = real(residual, i) / (diagonal[i] ?? 1);
    }
    const next = dot(residual, scaled);
    const keep = next / size;
    size = next;
    for (let i = 0; i < n; i++) direction[i] = real(scaled, i) + keep * real(direction, i);
  }
  return x;
}
