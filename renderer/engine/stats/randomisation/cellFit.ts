/** A pivot smaller than this share of its column repeats earlier columns. */
const REPEATED = 1e-9;

/** Least squares in the metric of a known covariance, for one layout of the treatments. */
export interface CellFit {
  /** Columns of the treatments in the design, and which of them could be estimated. */
  readonly kept: Uint8Array;
  /** (d + 1)²: the swept cross products, the coefficients in the last column. */
  readonly swept: Float64Array;
  /** Generalised residual mean square, and its df. */
  readonly ms: number;
  readonly df: number;
}

/**
 * Sweeps the first d columns of a symmetric matrix of d + 1 (Goodnight 1979, The American
 * Statistician 33, 149–158): leaves the inverse, the coefficients and the residual sum of squares.
 * Says which columns were swept; the others repeat earlier ones.
 */
export function sweepAll(a: Float64Array, d: number): Uint8Array {
  const size = d + 1;
  const kept = new Uint8Array(d);
  const scale = Float64Array.from({ length: d }, (_, k) => a[k * size + k] ?? 0);
  for (let k = 0; k < d; k++) {
    const pivot = a[k * size + k] ?? 0;
    if (!(pivot > REPEATED * (scale[k] ?? 0))) continue;
    kept[k] = 1;
    for (let j = 0; j < size; j++) a[k * size + j] = (a[k * size + j] ?? 0) / pivot;
    for (let i = 0; i < size; i++) {
      if (i === k) continue;
      const factor = a[i * size + k] ?? 0;
      if (factor !== 0) {
        for (let j = 0; j < size; j++) {
          a[i * size + j] = (a[i * size + j] ?? 0) - factor * (a[k * size + j] ?? 0);
        }
      }
      a[i * size + k] = -factor / pivot;
    }
    a[k * size + k] = 1 / pivot;
  }
  return kept;
}

/** A combination of the treatments' coefficients and its standard error; null: not estimable. */
export function combine(
  { kept, swept, ms }: CellFit,
  weights: Float64Array,
): { estimate: number; se: number } | null {
  const d = kept.length;
  const size = d + 1;
  let estimate = 0;
  let variance = 0;
  let largest = 0;
  for (let i = 0; i < d; i++) largest = Math.max(largest, Math.abs(weights[i] ?? 0));
  for (let i = 0; i < d; i++) {
    if (kept[i] === 0) {
      // A repeated column must weigh what the columns that it repeats imply.
      let implied = 0;
      for (let k = 0; k < d; k++) {
        if (kept[k] === 1) implied += (weights[k] ?? 0) * (swept[k * size + i] ?? 0);
      }
      if (Math.abs(implied - (weights[i] ?? 0)) > 1e-6 * largest) return null;
      continue;
    }
    const w = weights[i] ?? 0;
    if (w === 0) continue;
    estimate += w * (swept[i * size + d] ?? 0);
    for (let j = 0; j < d; j++) {
      if (kept[j] === 1) variance += w * (weights[j] ?? 0) * (swept[i * size + j] ?? 0);
    }
  }
  return { estimate, se: Math.sqrt(variance * ms) };
}

/** F of the contrasts in rows of `weights`; Infinity where a layout cannot estimate one of them. */
export function jointF(fit: CellFit, rows: readonly Float64Array[]): number {
  const { kept, swept, ms } = fit;
  const d = kept.length;
  const size = d + 1;
  const q = rows.length;
  const a = new Float64Array((q + 1) * (q + 1));
  for (let r = 0; r < q; r++) {
    const row = rows[r] ?? new Float64Array(d);
    const own = combine(fit, row);
    if (own === null) return Infinity;
    a[r * (q + 1) + q] = own.estimate;
    a[q * (q + 1) + r] = own.estimate;
    for (let s = 0; s <= r; s++) {
      const other = rows[s] ?? row;
      let sum = 0;
      for (let i = 0; i < d; i++) {
        const w = row[i] ?? 0;
        if (w === 0 || kept[i] === 0) continue;
        for (let j = 0; j < d; j++) {
          if (kept[j] === 1) sum += w * (other[j] ?? 0) * (swept[i * size + j] ?? 0);
        }
      }
      a[r * (q + 1) + s] = sum;
      a[s * (q + 1) + r] = sum;
    }
  }
  const found = sweepAll(a, q).reduce((sum, one) => sum + one, 0);
  const explained = -(a[(q + 1) * (q + 1) - 1] ?? 0);
  if (found === 0) return 0;
  return ms > 0 ? explained / found / ms : Infinity;
}
