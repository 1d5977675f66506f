import { choleskyInPlace, logDeterminant, solveLowerRows } from './cholesky';
import { addScaled, dotRange, selfProduct } from './linalg';
import type { Reduced } from './reduced';

/** One block of columns at given ratios: those whose ratio is above zero, S = I + Λ^½BΛ^½ = LLᵀ. */
export interface BlockFactor {
  /** Places in the block of the active columns, and √γ of each. */
  active: Int32Array;
  roots: Float64Array;
  factor: Float64Array;
  /** L⁻¹Λ^½T, one row a column of T. */
  lean: Float64Array;
}

/**
 * What the criterion is at given ratios, but for the response. With Λ = diag(γ) everything is a
 * matter of m = B − TTᵀ, b and yy by way of (I + Λ^½ m Λ^½)⁻¹ = S⁻¹ + S⁻¹Λ^½T A⁻¹ TᵀΛ^½S⁻¹,
 * A = I − TᵀΛ^½S⁻¹Λ^½T, S block by block (Sherman, Morrison & Woodbury).
 */
export interface Factors {
  ratios: Float64Array;
  blocks: readonly BlockFactor[];
  /** Cholesky factor of A. */
  lowFactor: Float64Array;
  /** log|S||A|; NaN where rounding leaves one of them not positive definite. */
  logDet: number;
}

/**
 * The REML criterion −2 log L, profiled over σ², as a function of the variance ratios
 * γ_k = σ_k²/σ² ≥ 0 (Patterson & Thompson 1971; Harville 1977).
 */
export interface AtRatios extends Factors {
  /** −2 log L of the profile. */
  value: number;
  /** rᵀH⁻¹r; σ² is this over `free`. */
  remainder: number;
  /** L⁻¹Λ^½b of each block. */
  halves: readonly Float64Array[];
  /** The Cholesky factor of A inverted, times TᵀΛ^½S⁻¹Λ^½b. */
  lowHalf: Float64Array;
}

export function factorsAt(
  { blocks: all, parts, low }: Pick<Reduced, 'blocks' | 'parts' | 'low'>,
  ratios: Float64Array,
): Factors {
  let definite = true;
  let logDet = 0;
  let total = 0;
  const blocks = all.map(({ columns, spans, gram, low: own }): BlockFactor => {
    const size = columns.length;
    const [active, roots] = activeIn(spans, parts.length, ratios);
    const a = active.length;
    total += a;
    const factor = new Float64Array(a * a);
    const lean = new Float64Array(low * a);
    for (let i = 0; i < a; i++) {
      const root = roots[i] ?? 0;
      const place = active[i] ?? 0;
      for (let j = 0; j <= i; j++) {
        factor[i * a + j] = root * (gram[place * size + (active[j] ?? 0)] ?? 0) * (roots[j] ?? 0);
      }
      factor[i * a + i] = (factor[i * a + i] ?? 0) + 1;
      for (let k = 0; k < low; k++) lean[k * a + i] = root * (own[place * low + k] ?? 0);
    }
    if (!choleskyInPlace(factor, a)) definite = false;
    solveLowerRows(factor, a, lean, low);
    logDet += logDeterminant(factor, a);
    return { active, roots, factor, lean };
  });
  // Side by side, so that the products run over all blocks at once.
  const wide = new Float64Array(low * total);
  let at = 0;
  for (const { active, lean } of blocks) {
    const a = active.length;
    for (let k = 0; k < low; k++) wide.set(lean.subarray(k * a, (k + 1) * a), k * total + at);
    at += a;
  }
  const lowFactor = new Float64Array(low * low);
  for (let k = 0; k < low; k++) {
    for (let l = 0; l <= k; l++) {
      lowFactor[k * low + l] =
        (k === l ? 1 : 0) - dotRange(wide, k * total, wide, l * total, total);
    }
  }
  if (!choleskyInPlace(lowFactor, low)) definite = false;
  logDet += logDeterminant(lowFactor, low);
  return { ratios: ratios.slice(), blocks, lowFactor, logDet: definite ? logDet : NaN };
}

function activeIn(
  spans: Int32Array,
  parts: number,
  ratios: Float64Array,
): [Int32Array, Float64Array] {
  const active: number[] = [];
  const roots: number[] = [];
  for (let k = 0; k < parts; k++) {
    const ratio = ratios[k] ?? 0;
    if (!(ratio > 0)) continue;
    for (let i = spans[k] ?? 0; i < (spans[k + 1] ?? 0); i++) {
      active.push(i);
      roots.push(Math.sqrt(ratio));
    }
  }
  return [Int32Array.from(active), Float64Array.from(roots)];
}

/** The criterion alone; value is Infinity where rounding makes it indeterminate. */
export function criterionAt(data: Reduced, ratios: Float64Array): AtRatios {
  return criterionBy(data, factorsAt(data, ratios));
}

export function criterionBy(data: Reduced, factors: Factors): AtRatios {
  const { free, design, low, b } = data;
  const lowHalf = new Float64Array(low);
  let remainder = data.yy;
  const halves = factors.blocks.map(({ active, roots, factor, lean }, at) => {
    const columns = data.blocks[at]?.columns ?? active;
    const a = active.length;
    const half = new Float64Array(a);
    for (let i = 0; i < a; i++) half[i] = (roots[i] ?? 0) * (b[columns[active[i] ?? 0] ?? 0] ?? 0);
    solveLowerRows(factor, a, half, 1);
    remainder -= dotRange(half, 0, half, 0, a);
    for (let k = 0; k < low; k++) {
      lowHalf[k] = (lowHalf[k] ?? 0) + dotRange(lean, k * a, half, 0, a);
    }
    return half;
  });
  solveLowerRows(factors.lowFactor, low, lowHalf, 1);
  remainder -= dotRange(lowHalf, 0, lowHalf, 0, low);
  const value =
    !Number.isNaN(factors.logDet) && remainder > 0
      ? free * (Math.log((2 * Math.PI * remainder) / free) + 1) + factors.logDet + design.logGram
      : Infinity;
  return { ...factors, value, remainder, halves, lowHalf };
}

/** C = ZᵀPZ and `score` = ZᵀPy, both times σ², at given ratios: C is D − FFᵀ, D block diagonal. */
export interface Projected {
  /** By block: D, and a row of F for each column. */
  blocks: readonly { d: Float64Array; f: Float64Array }[];
  score: Float64Array;
}

export function project(data: Reduced, at: AtRatios): Projected {
  const { q, b, low } = data;
  const score = new Float64Array(q);
  const blocks = data.blocks.map(({ columns, gram, low: own }, k) => {
    const { active, roots, factor, lean } = at.blocks[k] ?? noBlock;
    const half = at.halves[k] ?? noBlock.roots;
    const size = columns.length;
    const a = active.length;
    const rows = new Float64Array(size * a);
    for (let j = 0; j < size; j++) {
      for (let i = 0; i < a; i++) {
        rows[j * a + i] = (roots[i] ?? 0) * (gram[(active[i] ?? 0) * size + j] ?? 0);
      }
    }
    solveLowerRows(factor, a, rows, size);
    const d = selfProduct(rows, size, a);
    for (let i = 0; i < d.length; i++) d[i] = (gram[i] ?? 0) - (d[i] ?? 0);
    const f = own.slice();
    for (let j = 0; j < size; j++) {
      for (let c = 0; c < low; c++) {
        f[j * low + c] = (f[j * low + c] ?? 0) - dotRange(rows, j * a, lean, c * a, a);
      }
    }
    solveLowerRows(at.lowFactor, low, f, size);
    columns.forEach((column, j) => {
      score[column] =
        (b[column] ?? 0) -
        dotRange(rows, j * a, half, 0, a) +
        dotRange(f, j * low, at.lowHalf, 0, low);
    });
    return { d, f };
  });
  return { blocks, score };
}

const noBlock: BlockFactor = {
  active: new Int32Array(0),
  roots: new Float64Array(0),
  factor: new Float64Array(0),
  lean: new Float64Array(0),
};

/** C times each of `count` vectors, held as rows of length q. */
export function timesProjected(
  { blocks, low, q }: Reduced,
  projected: Projected,
  rows: Float64Array,
  count: number,
): Float64Array {
  const out = new Float64Array(count * q);
  const own = blocks.map(({ columns }) => new Float64Array(columns.length));
  for (let r = 0; r < count; r++) {
    const from = r * q;
    const taken = new Float64Array(low);
    blocks.forEach(({ columns }, k) => {
      const local = own[k] ?? new Float64Array(0);
      const f = projected.blocks[k]?.f ?? local;
      columns.forEach((column, i) => {
        const value = rows[from + column] ?? 0;
        local[i] = value;
        addScaled(taken, 0, value, f, i * low, low);
      });
    });
    blocks.forEach(({ columns }, k) => {
      const local = own[k] ?? new Float64Array(0);
      const { d = local, f = local } = projected.blocks[k] ?? {};
      const size = columns.length;
      columns.forEach((column, i) => {
        out[from + column] =
          dotRange(d, i * size, local, 0, size) - dotRange(f, i * low, taken, 0, low);
      });
    });
  }
  return out;
}

/**
 * Sums over the components from which every derivative is made: `traces`[k] = tr C_kk,
 * `squares`[k] = c_kᵀc_k, `products`[k,l] = ‖C_kl‖², `crossed`[k,l] = c_kᵀC_kl c_l, where c is
 * `score`.
 */
export interface DerivativeSums {
  traces: Float64Array;
  squares: Float64Array;
  products: Float64Array;
  crossed: Float64Array;
}

export function derivativeSums(data: Reduced, { blocks, score }: Projected): DerivativeSums {
  const { parts, low } = data;
  const r = parts.length;
  const traces = new Float64Array(r);
  const products = new Float64Array(r * r);
  const crossed = new Float64Array(r * r);
  const squares = Float64Array.from(parts, ({ start, count }) =>
    dotRange(score, start, score, start, count),
  );
  // F_kᵀF_k and F_kᵀc_k of each component, of which what crosses blocks is made.
  const taken = parts.map(() => new Float64Array(low * low));
  const along = parts.map(() => new Float64Array(low));
  data.blocks.forEach(({ columns, spans }, at) => {
    const { d, f } = blocks[at] ?? { d: score, f: score };
    const size = columns.length;
    for (let k = 0; k < r; k++) {
      const gram = taken[k] ?? score;
      const sums = along[k] ?? score;
      for (let i = spans[k] ?? 0; i < (spans[k + 1] ?? 0); i++) {
        const own = score[columns[i] ?? 0] ?? 0;
        traces[k] =
          (traces[k] ?? 0) + (d[i * size + i] ?? 0) - dotRange(f, i * low, f, i * low, low);
        addScaled(sums, 0, own, f, i * low, low);
        for (let c = 0; c < low; c++) {
          addScaled(gram, c * low, f[i * low + c] ?? 0, f, i * low, low);
        }
        for (let l = 0; l <= k; l++) {
          const start = spans[l] ?? 0;
          const end = spans[l + 1] ?? 0;
          let product = dotRange(d, i * size + start, d, i * size + start, end - start);
          let cross = 0;
          for (let j = start; j < end; j++) {
            const entry = d[i * size + j] ?? 0;
            cross += entry * (score[columns[j] ?? 0] ?? 0);
            if (low > 0) product -= 2 * entry * dotRange(f, i * low, f, j * low, low);
          }
          products[k * r + l] = (products[k * r + l] ?? 0) + product;
          crossed[k * r + l] = (crossed[k * r + l] ?? 0) + own * cross;
        }
      }
    }
  });
  for (let k = 0; k < r; k++) {
    for (let l = 0; l <= k; l++) {
      const product =
        (products[k * r + l] ?? 0) +
        dotRange(taken[k] ?? score, 0, taken[l] ?? score, 0, low * low);
      const cross =
        (crossed[k * r + l] ?? 0) - dotRange(along[k] ?? score, 0, along[l] ?? score, 0, low);
      products[k * r + l] = product;
      products[l * r + k] = product;
      crossed[k * r + l] = cross;
      crossed[l * r + k] = cross;
    }
  }
  return { traces, squares, products, crossed };
}
