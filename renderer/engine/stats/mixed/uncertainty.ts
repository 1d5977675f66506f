import type { AtRatios } from './criterion';
import { timesProjected, type DerivativeSums, type Projected } from './projected';
import { inverseOf } from './cholesky';
import { addScaled, selfProduct, timesTransposed, transposed } from './linalg';
import { sandwich, solveR } from './orthogonal';
import type { Reduced } from './reduced';
import { block, plusIdentity, timesSpread, type Solved } from './solved';
import { real } from '../../entry';

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
  const { parts, q, design } = data;
  const { rank } = design;
  const { residual, gains, phi } = solved;
  const size = parts.length + 1;
  const inverse = inverseOf(expectedInformation(data, at, sums), size);
  if (inverse === null) return null;
  const w = inverse.map((value) => 2 * value * residual * residual);
  const own = parts.map((part) => block(gains, rank, q, part.start, part.count));
  const powers = powersOf(data, projected, solved);
  const derivatives = parts.map((part, k) =>
    selfProduct(own[k] ?? new Float64Array(0), rank, part.count),
  );
  const pots = timesTransposed(powers.second, rank, powers.weightedT, rank, q);
  derivatives.push(sandwich(design, plusIdentity(pots, rank)));
  const covariance = phi.map((value) => value * residual);
  const correction = correctionOf(data, projected, solved, w, own, powers);
  addScaled(covariance, 0, 2, correction, 0, rank * rank);
  const ofVariances = Float64Array.from({ length: size }, (_, k) => real(w, k * size + k));
  return { derivatives, uncertainty: w, covariance, ofVariances };
}

/** Expected information in (σ_k² of every component, σ²), over σ⁴/2. */
function expectedInformation(data: Reduced, at: AtRatios, sums: DerivativeSums): Float64Array {
  const { parts, free } = data;
  const r = parts.length;
  const size = r + 1;
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
  return information;
}

interface Powers {
  /** tΛ. */
  readonly weightedT: Float64Array;
  /** tΛZᵀP²Z and tΛZᵀP³Z, times σ⁴ and σ⁶. */
  readonly second: Float64Array;
  readonly third: Float64Array;
}

/** From P = P H P. */
function powersOf(data: Reduced, projected: Projected, { spread }: Solved): Powers {
  const { q, t, design } = data;
  const { rank } = design;
  const weightedT = timesSpread(t, rank, q, spread);
  const first = timesProjected(data, projected, weightedT, rank);
  const next = (power: Float64Array): Float64Array => {
    const out = timesProjected(data, projected, timesSpread(power, rank, q, spread), rank);
    for (let i = 0; i < out.length; i++) out[i] = real(power, i) - real(out, i);
    return out;
  };
  const second = next(first);
  return { weightedT, second, third: next(second) };
}

/** Φ{Σ W_ij (Q_ij − P_iΦP_j)}Φ, with W = `w` and the gains of each component in `own`. */
function correctionOf(
  data: Reduced,
  projected: Projected,
  { residual, gains }: Solved,
  w: Float64Array,
  own: readonly Float64Array[],
  { weightedT, second, third }: Powers,
): Float64Array {
  const { parts, q, design } = data;
  const { rank } = design;
  const r = parts.length;
  const size = r + 1;
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
  return correction;
}
