import type { Design } from '../design';
import { dot, mean, selectColumns } from '../linear';
import { projection } from './projection';
import type { KnownCovariance, Projection } from './projection';

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

export interface CellFits {
  /** Indices in the design of the columns that belong to treatments. */
  readonly columns: readonly number[];
  /** Combination of all treatments' levels at each row, as the design has it. */
  readonly observed: Int32Array;
  /** The combination that has `levels` of some factors (by name) and is else like `cell`. */
  moved(cell: number, levels: ReadonlyMap<string, number>): number;
  /** The fit where each row has the given combination; of the response, or of another one. */
  fit(cells: Int32Array, response?: CellResponse): CellFit;
  /** A response less what the given coefficients of treatments add to the observed layout. */
  without(coefficients: Float64Array): CellResponse;
}

/** P y and yᵀP y. */
export interface CellResponse {
  readonly py: Float64Array;
  readonly ypy: number;
}

/** What no layout of the treatments changes: the projection past all other fixed columns. */
export function untreatedProjection(design: Design, covariance: KnownCovariance): Projection {
  const treated = new Set(
    design.terms.filter(({ role }) => role === 'treatment').flatMap(({ columns }) => columns),
  );
  const stay = design.columns.flatMap((_, j) => (treated.has(j) ? [] : [j]));
  const centre = mean(design.y);
  return projection(
    covariance,
    selectColumns(design.x, stay),
    design.y.map((y) => y - centre),
  );
}

/**
 * Fits of one response under any layout of its treatments by generalised least squares, with a
 * covariance that layouts leave as it is. All that a layout changes are sums of P over the rows of
 * each combination of levels: n²/2 additions a layout. Throws where a covariate is crossed with a
 * treatment.
 */
export function cellFits(design: Design, { p, py, rank }: Projection): CellFits {
  const n = design.y.length;
  const treated = design.terms.filter(({ role }) => role === 'treatment');
  if (treated.some(({ covariates }) => covariates.length > 0)) {
    throw new Error('randomisation test: a covariate is crossed with a treatment');
  }
  const columns = treated.flatMap((term) => term.columns);
  const names = [...new Set(treated.flatMap(({ factors }) => factors))];
  const counts = names.map((name) => design.factors.get(name)?.levels.length ?? 1);
  const m = counts.reduce((product, count) => product * count, 1);
  const d = columns.length;

  const centre = mean(design.y);
  const y = { py, ypy: dot(py, design.y) - centre * py.reduce((sum, value) => sum + value, 0) };
  // The diagonal halved, so that a triangle and its transpose add to the whole.
  const half = p.slice();
  for (let i = 0; i < n; i++) half[i * n + i] = (half[i * n + i] ?? 0) / 2;

  const cellOf = (levels: readonly number[]): number =>
    levels.reduce((cell, level, f) => cell * (counts[f] ?? 1) + level, 0);
  const levelsOf = (cell: number): number[] => {
    const levels = new Array<number>(names.length).fill(0);
    for (let f = names.length - 1; f >= 0; f--) {
      const count = counts[f] ?? 1;
      levels[f] = cell % count;
      cell = Math.floor(cell / count);
    }
    return levels;
  };
  const codes = names.map((name) => design.factors.get(name)?.codes);
  const observed = Int32Array.from({ length: n }, (_, i) =>
    cellOf(codes.map((code) => code?.[i] ?? 0)),
  );
  // By column, the combinations in which it is 1.
  const filled = columns.map((j) => {
    const wanted = design.columns[j]?.levels ?? new Map<string, number>();
    const cells: number[] = [];
    for (let cell = 0; cell < m; cell++) {
      const levels = levelsOf(cell);
      if ([...wanted].every(([name, level]) => levels[names.indexOf(name)] === level))
        cells.push(cell);
    }
    return Int32Array.from(cells);
  });

  const triangle = new Float64Array(m * m);
  const gram = new Float64Array(m * d);
  const sums = new Float64Array(m);
  const size = d + 1;
  return {
    columns,
    observed,
    moved(cell, levels) {
      return cellOf(levelsOf(cell).map((level, f) => levels.get(names[f] ?? '') ?? level));
    },
    without(coefficients) {
      const left = design.y.map((value, i) => {
        let sum = value - centre;
        columns.forEach((j, a) => {
          sum -= (coefficients[a] ?? 0) * (design.x.data[i * design.x.columns + j] ?? 0);
        });
        return sum;
      });
      const product = new Float64Array(n);
      for (let i = 0; i < n; i++) product[i] = dot(p.subarray(i * n, (i + 1) * n), left);
      return { py: product, ypy: dot(product, left) };
    },
    fit(cells, response = y) {
      triangle.fill(0);
      sums.fill(0);
      for (let i = 0; i < n; i++) {
        const cell = cells[i] ?? 0;
        const to = cell * m;
        const from = i * n;
        sums[cell] = (sums[cell] ?? 0) + (response.py[i] ?? 0);
        for (let j = 0; j <= i; j++) {
          const at = to + (cells[j] ?? 0);
          triangle[at] = (triangle[at] ?? 0) + (half[from + j] ?? 0);
        }
      }
      for (let c = 0; c < m; c++) {
        for (let a = 0; a < d; a++) {
          let sum = 0;
          for (const cell of filled[a] ?? []) {
            sum += (triangle[c * m + cell] ?? 0) + (triangle[cell * m + c] ?? 0);
          }
          gram[c * d + a] = sum;
        }
      }
      const swept = new Float64Array(size * size);
      for (let a = 0; a < d; a++) {
        for (const cell of filled[a] ?? []) {
          for (let b = 0; b < d; b++) {
            swept[a * size + b] = (swept[a * size + b] ?? 0) + (gram[cell * d + b] ?? 0);
          }
          swept[a * size + d] = (swept[a * size + d] ?? 0) + (sums[cell] ?? 0);
        }
        swept[d * size + a] = swept[a * size + d] ?? 0;
      }
      swept[d * size + d] = response.ypy;
      const kept = sweepAll(swept, d);
      const found = kept.reduce((sum, one) => sum + one, 0);
      const df = n - rank - found;
      const rss = swept[d * size + d] ?? 0;
      return { kept, swept, df, ms: rss > 1e-12 * response.ypy ? rss / df : 0 };
    },
  };
}

/**
 * Sweeps the first d columns of a symmetric matrix of d + 1 (Goodnight 1979, The American
 * Statistician 33, 149–158): leaves the inverse, the coefficients and the residual sum of squares.
 * Says which columns were swept; the others repeat earlier ones.
 */
function sweepAll(a: Float64Array, d: number): Uint8Array {
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
