import type { Reflectances } from '../../../../shared-types/rack';
import { FACES, type BayBox } from './box';
import { Refusal } from '../../../words';
import { add, real } from '../../entry';

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

/** Σⱼ AᵢFᵢⱼ xⱼ / Aᵢ: what arrives at each patch from what leaves all of them. */
export function arrivingFrom(box: BayBox, leaving: Float64Array): Float64Array {
  const { count, exchange, areaM2 } = box;
  const arriving = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let sum = 0;
    const row = i * count;
    for (let j = 0; j < count; j++) sum += real(exchange, row + j) * real(leaving, j);
    arriving[i] = sum / (areaM2[i] ?? 1);
  }
  return arriving;
}

/** Throws for a closed bay that absorbs nothing: its light has no steady state. */
export function refuseLossless(reflectance: Float64Array): void {
  if (reflectance.every((rho) => rho === 1)) {
    throw new Refusal('every face of the bay reflects all light: one that absorbs is expected');
  }
}

/**
 * Diffuse grey inter-reflection B = M + ρ F B (trade sheet 1.6): `emitted` M is what each patch
 * gives off by itself (for light of lamps: ρ times what falls on it directly). Solved over the
 * reflecting patches in the symmetric form (A/ρ) B − A F B = (A/ρ) M by conjugate gradients,
 * scaled by the diagonal. Throws for a closed bay that absorbs nothing.
 */
export function solveRadiosity(
  box: BayBox,
  reflectance: Float64Array,
  emitted: Float64Array,
): Radiosity {
  refuseLossless(reflectance);
  const { count, areaM2 } = box;
  // Light that black patches give off is known and moves to the right-hand side.
  const black = emitted.map((m, i) => (real(reflectance, i) === 0 ? m : 0));
  const fromBlack = arrivingFrom(box, black);
  const lit = Array.from(reflectance.keys()).filter((i) => real(reflectance, i) > 0);
  const n = lit.length;
  const diagonal = new Float64Array(n);
  const right = new Float64Array(n);
  lit.forEach((i, k) => {
    const weight = real(areaM2, i) / (reflectance[i] ?? 1);
    diagonal[k] = weight;
    right[k] = weight * real(emitted, i) + real(areaM2, i) * real(fromBlack, i);
  });
  const exchange = new Float64Array(n * n);
  lit.forEach((i, k) => {
    lit.forEach((j, l) => {
      exchange[k * n + l] = real(box.exchange, i * count + j);
    });
  });
  const solved = conjugateGradients(diagonal, exchange, right);
  const leaving = black;
  lit.forEach((i, k) => {
    leaving[i] = real(solved, k);
  });
  return { leaving, arriving: arrivingFrom(box, leaving) };
}

const dot = (a: Float64Array, b: Float64Array) => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += real(a, i) * real(b, i);
  return sum;
};

/** Solves (diag(d) − S) x = r for symmetric S, positive definite; stops at 1e-14 of the start. */
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
  const enough = size * 1e-28;
  for (let step = 0; step < 10 * n + 100 && size > enough; step++) {
    for (let i = 0; i < n; i++) {
      let sum = real(diagonal, i) * real(direction, i);
      const row = i * n;
      for (let j = 0; j < n; j++) sum -= real(s, row + j) * real(direction, j);
      image[i] = sum;
    }
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
