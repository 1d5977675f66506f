import type { AtRatios } from './criterion';
import { timesProjected, type DerivativeSums, type Projected } from './projected';
import { inverseOf, solveLowerRows } from './cholesky';
import { addScaled, dotRange, selfProduct, timesTransposed, transposed } from './linalg';
import { sandwich, solveR } from './orthogonal';
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

function plusIdentity(matrix: Float64Array, n: number): Float64Array {
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

function timesSpread(
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
function block(
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

export interface VarianceUncertainty {
  derivatives: Float64Array[];
  uncertainty: Float64Array;
  /** Covariance of the coefficients to report. */
  covariance: Float64Array;
  /** Sampling variance of the variance of each component, then of the residual. */
  ofVariances: Float64Array;
}

/**
 * Observed information in (γ of the components above zero, σ²). A component at zero is taken as
 * known to be zero.
 */
export function observedUncertainty(
  data: Reduced,
  at: AtRatios,
  sums: DerivativeSums,
  solved: Solved,
): VarianceUncertainty | null {
  const { parts, q, free, design } = data;
  const { rank } = design;
  const { residual, gains } = solved;
  const r = parts.length;
  const above = parts.flatMap((_, k) => (real(at.ratios, k) > 0 ? [k] : []));
  const size = above.length + 1;
  const curvature = new Float64Array(size * size);
  const last = size - 1;
  above.forEach((k, i) => {
    above.forEach((l, j) => {
      curvature[i * size + j] =
        (2 * real(sums.crossed, k * r + l)) / residual - real(sums.products, k * r + l);
    });
    const mixed = real(sums.squares, k) / (residual * residual);
    curvature[i * size + last] = mixed;
    curvature[last * size + i] = mixed;
  });
  curvature[last * size + last] = free / (residual * residual);
  const inverse = inverseOf(curvature, size);
  if (inverse === null) return null;
  const derivatives = above.map((k) => {
    const part = parts[k] ?? { start: 0, count: 0 };
    const own = block(gains, rank, q, part.start, part.count);
    return selfProduct(own, rank, part.count).map((value) => value * residual);
  });
  derivatives.push(solved.phi.slice());
  const uncertainty = inverse.map((value) => 2 * value);
  const ofVariances = new Float64Array(r + 1);
  ofVariances[r] = real(uncertainty, last * size + last);
  above.forEach((k, i) => {
    const ratio = real(at.ratios, k);
    ofVariances[k] =
      residual ** 2 * real(uncertainty, i * size + i) +
      2 * ratio * residual * real(uncertainty, i * size + last) +
      ratio ** 2 * real(uncertainty, last * size + last);
  });
  return {
    derivatives,
    uncertainty,
    covariance: solved.phi.map((value) => value * residual),
    ofVariances,
  };
}

/**
 * Expected information in (σ_k² of every component, σ²) and the covariance corrected for the
 * uncertainty of the variances, Φ + 2Φ{Σ W_ij (Q_ij − P_iΦP_j)}Φ (Kenward & Roger 1997). A
 * component at zero counts as estimated, which keeps the df those of its unit.
 */
export function expectedUncertainty(
  data: Reduced,
  at: AtRatios,
  projected: Projected,
  sums: DerivativeSums,
  solved: Solved,
): VarianceUncertainty | null {
  const { parts, q, free, t, design } = data;
  const { rank } = design;
  const { residual, gains, spread, phi } = solved;
  const r = parts.length;
  const size = r + 1;
  // tΛZᵀP²Z and tΛZᵀP³Z (times σ⁴, σ⁶) from P = P H P.
  const weightedT = timesSpread(t, rank, q, spread);
  const first = timesProjected(data, projected, weightedT, rank);
  const next = (power: Float64Array): Float64Array => {
    const out = timesProjected(data, projected, timesSpread(power, rank, q, spread), rank);
    for (let i = 0; i < out.length; i++) out[i] = real(power, i) - real(out, i);
    return out;
  };
  const second = next(first);
  const third = next(second);

  const information = new Float64Array(size * size);
  let potTrace = free;
  parts.forEach((_, k) => {
    let trace = real(sums.traces, k);
    parts.forEach((_, l) => (trace -= real(at.ratios, l) * real(sums.products, k * r + l)));
    potTrace -= real(at.ratios, k) * (real(sums.traces, k) + trace);
    information[k * size + r] = trace;
    information[r * size + k] = trace;
    for (let l = 0; l < r; l++) information[k * size + l] = real(sums.products, k * r + l);
  });
  information[r * size + r] = potTrace;
  const inverse = inverseOf(information, size);
  if (inverse === null) return null;
  const w = inverse.map((value) => 2 * value * residual * residual);

  const own = parts.map((part) => block(gains, rank, q, part.start, part.count));
  const derivatives = parts.map((part, k) =>
    selfProduct(own[k] ?? new Float64Array(0), rank, part.count),
  );
  const pots = timesTransposed(second, rank, weightedT, rank, q);
  derivatives.push(sandwich(design, plusIdentity(pots, rank)));

  const correction = new Float64Array(rank * rank);
  const add = (weight: number, matrix: Float64Array): void => {
    addScaled(correction, 0, weight / residual, matrix, 0, rank * rank);
  };
  // −Fᵀ's partner for the pots: rows of ΦXᵀV⁻¹ times P Z.
  const potGains = solveR(design, second, q);
  parts.forEach((left, l) => {
    const alone = new Float64Array(rank * q);
    for (let i = 0; i < rank; i++) {
      const from = i * q + left.start;
      alone.set(gains.subarray(from, from + left.count), from);
    }
    const through = timesProjected(data, projected, alone, rank);
    parts.forEach((right, k) => {
      const between = block(through, rank, q, right.start, right.count);
      add(
        real(w, k * size + l),
        timesTransposed(own[k] ?? alone, rank, between, rank, right.count),
      );
    });
    const partner = block(potGains, rank, q, left.start, left.count);
    const cross = timesTransposed(own[l] ?? alone, rank, partner, rank, left.count);
    const weight = -real(w, l * size + r);
    add(weight, cross);
    add(weight, transposed(cross, rank, rank));
  });
  const deep = timesTransposed(third, rank, weightedT, rank, q);
  add(real(w, r * size + r), sandwich(design, deep));

  const covariance = phi.map((value) => value * residual);
  addScaled(covariance, 0, 2, correction, 0, rank * rank);
  const ofVariances = Float64Array.from({ length: size }, (_, k) => real(w, k * size + k));
  return { derivatives, uncertainty: w, covariance, ofVariances };
}
