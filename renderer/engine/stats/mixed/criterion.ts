import { choleskyInPlace, logDeterminant, solveLowerRows } from './cholesky';
import type { BlockFactor, ColumnBlock, Factors } from './columnBlocks';
import { dotRange } from './linalg';
import type { Reduced } from './reduced';
import { add, real, whole } from '../../entry';

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
  const known: (ActiveFactor | null)[] = [];
  const blocks = all.map((block, b): BlockFactor => {
    const shared = known[block.like] ?? activeFactor(block, parts.length, ratios);
    known[b] = shared;
    const { active, roots, factor } = shared;
    const a = active.length;
    total += a;
    const lean = new Float64Array(low * a);
    for (let i = 0; i < a; i++) {
      const from = whole(active, i) * low;
      for (let k = 0; k < low; k++) lean[k * a + i] = real(roots, i) * real(block.low, from + k);
    }
    if (!shared.definite) definite = false;
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

/** What blocks that are alike share at the same ratios: L with LLᵀ = I + Λ^½BΛ^½. */
interface ActiveFactor extends Pick<BlockFactor, 'active' | 'roots' | 'factor'> {
  readonly definite: boolean;
}

function activeFactor(
  { columns, spans, gram }: ColumnBlock,
  parts: number,
  ratios: Float64Array,
): ActiveFactor {
  const size = columns.length;
  const [active, roots] = activeIn(spans, parts, ratios);
  const a = active.length;
  const factor = new Float64Array(a * a);
  for (let i = 0; i < a; i++) {
    const from = whole(active, i) * size;
    for (let j = 0; j <= i; j++) {
      factor[i * a + j] = real(roots, i) * real(gram, from + whole(active, j)) * real(roots, j);
    }
    add(factor, i * a + i, 1);
  }
  return { active, roots, factor, definite: choleskyInPlace(factor, a) };
}

function activeIn(
  spans: Int32Array,
  parts: number,
  ratios: Float64Array,
): [Int32Array, Float64Array] {
  const active: number[] = [];
  const roots: number[] = [];
  for (let k = 0; k < parts; k++) {
    const ratio = real(ratios, k);
    if (!(ratio > 0)) continue;
    for (let i = whole(spans, k); i < whole(spans, k + 1); i++) {
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
    for (let i = 0; i < a; i++)
      half[i] = real(roots, i) * real(b, whole(columns, whole(active, i)));
    solveLowerRows(factor, a, half, 1);
    remainder -= dotRange(half, 0, half, 0, a);
    for (let k = 0; k < low; k++) {
      add(lowHalf, k, dotRange(lean, k * a, half, 0, a));
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
