import { choleskyInPlace, logDeterminant, solveLowerRows } from './cholesky';
import { dotRange, selfProduct } from './linalg';
import type { Reduced } from './reduced';

/**
 * The REML criterion −2 log L, profiled over σ², as a function of the variance ratios
 * γ_k = σ_k²/σ² ≥ 0 (Patterson & Thompson 1971; Harville 1977). With Λ = diag(γ) and
 * G = (I + Λ^½ m Λ^½)⁻¹ everything is a matter of m, b and yy.
 */
export interface AtRatios {
  ratios: Float64Array;
  /** −2 log L of the profile. */
  value: number;
  /** rᵀH⁻¹r; σ² is this over `free`. */
  remainder: number;
  /** Columns whose ratio is above zero, and √γ of each. */
  active: Int32Array;
  roots: Float64Array;
  /** Cholesky factor of G⁻¹ over the active columns. */
  factor: Float64Array;
  /** L⁻¹Λ^½b. */
  half: Float64Array;
}

function activeColumns(data: Reduced, ratios: Float64Array): [Int32Array, Float64Array] {
  const columns: number[] = [];
  const roots: number[] = [];
  data.parts.forEach((part, k) => {
    const ratio = ratios[k] ?? 0;
    if (!(ratio > 0)) return;
    for (let j = 0; j < part.count; j++) {
      columns.push(part.start + j);
      roots.push(Math.sqrt(ratio));
    }
  });
  return [Int32Array.from(columns), Float64Array.from(roots)];
}

/** The criterion alone; value is Infinity where rounding makes it indeterminate. */
export function criterionAt(data: Reduced, ratios: Float64Array): AtRatios {
  const { q, m, b, yy, free, design } = data;
  const [active, roots] = activeColumns(data, ratios);
  const a = active.length;
  const factor = new Float64Array(a * a);
  const half = new Float64Array(a);
  for (let i = 0; i < a; i++) {
    const root = roots[i] ?? 0;
    const row = (active[i] ?? 0) * q;
    for (let j = 0; j <= i; j++) {
      factor[i * a + j] = root * (m[row + (active[j] ?? 0)] ?? 0) * (roots[j] ?? 0);
    }
    factor[i * a + i] = (factor[i * a + i] ?? 0) + 1;
    half[i] = root * (b[active[i] ?? 0] ?? 0);
  }
  const definite = choleskyInPlace(factor, a);
  if (definite) solveLowerRows(factor, a, half, 1);
  const remainder = yy - dotRange(half, 0, half, 0, a);
  const value =
    definite && remainder > 0
      ? free * (Math.log((2 * Math.PI * remainder) / free) + 1) +
        logDeterminant(factor, a) +
        design.logGram
      : Infinity;
  return { ratios: ratios.slice(), value, remainder, active, roots, factor, half };
}

/** `inner` = ZᵀPZ and `score` = ZᵀPy, both times σ², at given ratios. */
export interface Projected {
  inner: Float64Array;
  score: Float64Array;
}

export function project(data: Reduced, at: AtRatios): Projected {
  const { q, m, b } = data;
  const { active, roots, factor, half } = at;
  const a = active.length;
  const rows = new Float64Array(q * a);
  for (let j = 0; j < q; j++) {
    for (let i = 0; i < a; i++) {
      rows[j * a + i] = (roots[i] ?? 0) * (m[(active[i] ?? 0) * q + j] ?? 0);
    }
  }
  solveLowerRows(factor, a, rows, q);
  const inner = selfProduct(rows, q, a);
  for (let i = 0; i < inner.length; i++) inner[i] = (m[i] ?? 0) - (inner[i] ?? 0);
  const score = new Float64Array(q);
  for (let j = 0; j < q; j++) score[j] = (b[j] ?? 0) - dotRange(rows, j * a, half, 0, a);
  return { inner, score };
}

/**
 * Sums over the components from which every derivative is made: `traces`[k] = tr C_kk,
 * `squares`[k] = c_kᵀc_k, `products`[k,l] = ‖C_kl‖², `crossed`[k,l] = c_kᵀC_kl c_l, where C is
 * `inner` and c is `score`.
 */
export interface DerivativeSums {
  traces: Float64Array;
  squares: Float64Array;
  products: Float64Array;
  crossed: Float64Array;
}

export function derivativeSums(data: Reduced, { inner, score }: Projected): DerivativeSums {
  const { q, parts } = data;
  const r = parts.length;
  const traces = new Float64Array(r);
  const squares = new Float64Array(r);
  const products = new Float64Array(r * r);
  const crossed = new Float64Array(r * r);
  parts.forEach((left, k) => {
    let trace = 0;
    for (let i = left.start; i < left.start + left.count; i++) trace += inner[i * q + i] ?? 0;
    traces[k] = trace;
    squares[k] = dotRange(score, left.start, score, left.start, left.count);
    parts.slice(0, k + 1).forEach((right, l) => {
      let product = 0;
      let cross = 0;
      for (let i = left.start; i < left.start + left.count; i++) {
        const at = i * q + right.start;
        product += dotRange(inner, at, inner, at, right.count);
        cross += (score[i] ?? 0) * dotRange(inner, at, score, right.start, right.count);
      }
      products[k * r + l] = product;
      products[l * r + k] = product;
      crossed[k * r + l] = cross;
      crossed[l * r + k] = cross;
    });
  });
  return { traces, squares, products, crossed };
}
