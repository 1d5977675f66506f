import { solveLowerRows } from './cholesky';
import type { BlockFactor, ColumnBlock } from './columnBlocks';
import type { AtRatios } from './criterion';
import { addScaled, dotRange, selfProduct } from './linalg';
import type { Reduced } from './reduced';
import { add, real, whole } from '../../entry';

/** C = ZᵀPZ and `score` = ZᵀPy, both times σ², at given ratios: C is D − FFᵀ, D block diagonal. */
export interface Projected {
  /** By block: D, and a row of F for each column. */
  blocks: readonly { d: Float64Array; f: Float64Array }[];
  score: Float64Array;
}

export function project(data: Reduced, at: AtRatios): Projected {
  const { q, b, low } = data;
  const score = new Float64Array(q);
  const known: ReturnType<typeof projectBlock>[] = [];
  const blocks = data.blocks.map((block, k) => {
    const { columns } = block;
    const factor = at.blocks[k] ?? noBlock;
    const shared = known[block.like] ?? projectBlock(block, factor);
    known[k] = shared;
    const { rows, d } = shared;
    const { lean } = factor;
    const half = at.halves[k] ?? noBlock.roots;
    const size = columns.length;
    const a = factor.active.length;
    const f = block.low.slice();
    for (let j = 0; j < size; j++) {
      for (let c = 0; c < low; c++) {
        add(f, j * low + c, -dotRange(rows, j * a, lean, c * a, a));
      }
    }
    solveLowerRows(at.lowFactor, low, f, size);
    columns.forEach((column, j) => {
      score[column] =
        real(b, column) -
        dotRange(rows, j * a, half, 0, a) +
        dotRange(f, j * low, at.lowHalf, 0, low);
    });
    return { d, f };
  });
  return { blocks, score };
}

/** What blocks that are alike share: the rows L⁻¹Λ^½B, and D = B − BΛ^½S⁻¹Λ^½B. */
function projectBlock(
  { columns, gram }: ColumnBlock,
  { active, roots, factor }: BlockFactor,
): { rows: Float64Array; d: Float64Array } {
  const size = columns.length;
  const a = active.length;
  const rows = new Float64Array(size * a);
  for (let j = 0; j < size; j++) {
    for (let i = 0; i < a; i++) {
      rows[j * a + i] = real(roots, i) * real(gram, whole(active, i) * size + j);
    }
  }
  solveLowerRows(factor, a, rows, size);
  const d = selfProduct(rows, size, a);
  for (let i = 0; i < d.length; i++) d[i] = real(gram, i) - real(d, i);
  return { rows, d };
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
        const value = real(rows, from + column);
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
      for (let i = whole(spans, k); i < whole(spans, k + 1); i++) {
        const own = real(score, whole(columns, i));
        traces[k] = real(traces, k) + real(d, i * size + i) - dotRange(f, i * low, f, i * low, low);
        addScaled(sums, 0, own, f, i * low, low);
        for (let c = 0; c < low; c++) {
          addScaled(gram, c * low, real(f, i * low + c), f, i * low, low);
        }
        for (let l = 0; l <= k; l++) {
          const start = whole(spans, l);
          const end = whole(spans, l + 1);
          let product = dotRange(d, i * size + start, d, i * size + start, end - start);
          let cross = 0;
          for (let j = start; j < end; j++) {
            const entry = real(d, i * size + j);
            cross += entry * real(score, whole(columns, j));
            if (low > 0) product -= 2 * entry * dotRange(f, i * low, f, j * low, low);
          }
          add(products, k * r + l, product);
          add(crossed, k * r + l, own * cross);
        }
      }
    }
  });
  for (let k = 0; k < r; k++) {
    for (let l = 0; l <= k; l++) {
      const product =
        real(products, k * r + l) + dotRange(taken[k] ?? score, 0, taken[l] ?? score, 0, low * low);
      const cross =
        real(crossed, k * r + l) - dotRange(along[k] ?? score, 0, along[l] ?? score, 0, low);
      products[k * r + l] = product;
      products[l * r + k] = product;
      crossed[k * r + l] = cross;
      crossed[l * r + k] = cross;
    }
  }
  return { traces, squares, products, crossed };
}
