import type { AtRatios } from './criterion';
import { solveLowerRows } from './cholesky';
import { addScaled, dotRange, selfProduct, timesTransposed } from './linalg';
import { sandwich, solveR } from './orthogonal';
import { timesProjected, type Projected } from './projected';
import type { Reduced } from './reduced';
import { add, real, whole } from '../../entry';

/**
 * Estimates of the fixed and random effects and all that their uncertainty needs, at given
 * ratios. Notation of `Reduced`; Φ = σ²·`phi`, F = `gains` = ΦXᵀV⁻¹Z, for which ∂Φ/∂σ_k² = F_kF_kᵀ.
 */
export interface Solved {
  /** σ². */
  residual: number;
  beta: Float64Array;
  /** Predicted random effects, all components. */
  effects: Float64Array;
  /** Φ/σ². */
  phi: Float64Array;
  /** rank × q. */
  gains: Float64Array;
  /** γ of each random column. */
  spread: Float64Array;
}

export function plusIdentity(matrix: Float64Array, n: number): Float64Array {
  for (let i = 0; i < n; i++) add(matrix, i * n + i, 1);
  return matrix;
}

/** GLS estimates of the fixed effects beside given random ones. */
export function betaOf({ q, t, qy, design }: Reduced, effects: Float64Array): Float64Array {
  const { rank } = design;
  const known = new Float64Array(rank);
  for (let i = 0; i < rank; i++) known[i] = real(qy, i) - dotRange(t, i * q, effects, 0, q);
  return solveR(design, known, 1);
}

/** GLS estimates and predictions. Φ is built as a sum of squares, so nothing cancels. */
export function solveEffects(data: Reduced, at: AtRatios, projected: Projected): Solved {
  const { q, t, free, parts, design, low } = data;
  const { rank } = design;
  const spread = new Float64Array(q);
  parts.forEach((part, k) => {
    spread.fill(real(at.ratios, k), part.start, part.start + part.count);
  });
  const effects = Float64Array.from(spread, (ratio, j) => ratio * real(projected.score, j));
  const beta = betaOf(data, effects);

  const core = plusIdentity(new Float64Array(rank * rank), rank);
  const across = new Float64Array(rank * low);
  data.blocks.forEach(({ columns }, k) => {
    const own = at.blocks[k];
    if (!own) return;
    const { active, roots, factor, lean } = own;
    const a = active.length;
    const rows = new Float64Array(rank * a);
    for (let i = 0; i < rank; i++) {
      for (let j = 0; j < a; j++) {
        rows[i * a + j] = real(roots, j) * real(t, i * q + whole(columns, whole(active, j)));
      }
    }
    solveLowerRows(factor, a, rows, rank);
    addScaled(core, 0, 1, selfProduct(rows, rank, a), 0, rank * rank);
    addScaled(across, 0, 1, timesTransposed(rows, rank, lean, low, a), 0, rank * low);
  });
  solveLowerRows(at.lowFactor, low, across, rank);
  addScaled(core, 0, 1, selfProduct(across, rank, low), 0, rank * rank);
  const phi = sandwich(design, core);

  const reach = timesProjected(data, projected, timesSpread(t, rank, q, spread), rank);
  for (let i = 0; i < reach.length; i++) reach[i] = real(t, i) - real(reach, i);
  const gains = solveR(design, reach, q);
  return { residual: at.remainder / free, beta, effects, phi, gains, spread };
}

export function timesSpread(
  matrix: Float64Array,
  rows: number,
  q: number,
  spread: Float64Array,
): Float64Array {
  const out = new Float64Array(rows * q);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < q; j++) out[i * q + j] = real(matrix, i * q + j) * real(spread, j);
  }
  return out;
}

/** Columns start … start + count of a matrix with q columns. */
export function block(
  matrix: Float64Array,
  rows: number,
  q: number,
  start: number,
  count: number,
): Float64Array {
  const out = new Float64Array(rows * count);
  for (let i = 0; i < rows; i++) {
    out.set(matrix.subarray(i * q + start, i * q + start + count), i * count);
  }
  return out;
}
