import { termColumns } from '../design';
import type { Design, DesignColumn } from '../design';
import { real } from '../../entry';

/** The columns of the fixed part in sum coding, in the order of `designMatrix(…, 'sum')`. */
export function sumColumns(design: Design): DesignColumn[] {
  return [
    ...design.columns.slice(0, 1),
    ...design.terms.flatMap((term, i) => termColumns(term, i, design.factors, 'sum')),
  ];
}

/**
 * How much of reference column `row` is in sum-coded column `column`: with e_l the indicator of
 * level l, the sum-coded s_m = e_m − e_last, and e_first = 1 − Σ e_l over the other levels.
 */
function share(design: Design, row: DesignColumn, column: DesignColumn): number {
  if (row.covariates.join('\n') !== column.covariates.join('\n')) return 0;
  for (const name of row.levels.keys()) if (!column.levels.has(name)) return 0;
  let product = 1;
  for (const [name, m] of column.levels) {
    const l = row.levels.get(name);
    const last = (design.factors.get(name)?.levels.length ?? 1) - 1;
    if (l === undefined) product *= m === 0 ? 1 : 0;
    else product *= (m === 0 ? -1 : Number(l === m)) - Number(l === last);
  }
  return product;
}

/** Matrix T, row major, with β = Tγ: coefficients of the reference coding from sum-coded ones. */
export function fromSumCoding(design: Design): Float64Array {
  const sums = sumColumns(design);
  const p = sums.length;
  const t = new Float64Array(p * p);
  design.columns.forEach((row, i) => {
    sums.forEach((column, j) => {
      t[i * p + j] = share(design, row, column);
    });
  });
  return t;
}

/**
 * Squared length of the part of a comparison that belongs to one term, as a combination of the
 * means of all combinations of levels: uᵀ(CᵀC)⁻¹u with C the term's sum-coded columns on that grid,
 * CᵀC = ⊗(I + J) × the number of combinations of the other factors. `weights` are those of the
 * term's own columns, the earlier factors varying fastest.
 */
export function squaredLength(
  design: Design,
  factors: readonly string[],
  weights: Float64Array,
): number {
  const spread = weights.slice();
  let stride = 1;
  for (const name of factors) {
    const levels = design.factors.get(name)?.levels.length ?? 2;
    const count = levels - 1;
    // (I + J)⁻¹ = I − J/levels along this factor.
    for (let start = 0; start < spread.length; start++) {
      if (Math.floor(start / stride) % count !== 0) continue;
      let sum = 0;
      for (let k = 0; k < count; k++) sum += real(spread, start + k * stride);
      for (let k = 0; k < count; k++) {
        const at = start + k * stride;
        spread[at] = real(spread, at) - sum / levels;
      }
    }
    stride *= count;
  }
  let others = 1;
  for (const [name, factor] of design.factors) {
    if (!factors.includes(name)) others *= factor.levels.length;
  }
  let length = 0;
  for (let j = 0; j < spread.length; j++) length += real(spread, j) * real(weights, j);
  return length / others;
}
