import type { Design } from '../design';
import { dot, mean } from '../linear';
import { partedBy, projectionOf, type BlockProjection } from './blocks';
import { sweepAll, type CellFit } from './cellFit';
import { levelCells } from './levelCells';
import type { KnownCovariance } from './projection';

export interface CellFits {
  /** Indices in the design of the columns that belong to treatments. */
  readonly columns: readonly number[];
  /** How many combinations of all treatments' levels there are. */
  readonly count: number;
  /** Combination of all treatments' levels at each row, as the design has it. */
  readonly observed: Int32Array;
  /** The combination that has `levels` of some factors (by name) and is else like `cell`. */
  moved(cell: number, levels: ReadonlyMap<string, number>): number;
  /** The fit where each row has the given combination; of the response, or of another one. */
  fit(cells: Int32Array, response?: CellResponse): CellFit;
  /** The fit of another response to the layout of a fit, which saves adding up P again. */
  refit(fit: CellFit, cells: Int32Array, response: CellResponse): CellFit;
  /** A response less what the given coefficients of treatments add to the observed layout. */
  without(coefficients: Float64Array): CellResponse;
}

/** P y and yᵀP y. */
export interface CellResponse {
  readonly py: Float64Array;
  readonly ypy: number;
}

/** What no layout of the treatments changes: the projection past all other fixed columns. */
export function untreatedProjection(design: Design, covariance: KnownCovariance): BlockProjection {
  const treated = new Set(
    design.terms.filter(({ role }) => role === 'treatment').flatMap(({ columns }) => columns),
  );
  const stay = design.columns.flatMap((_, j) => (treated.has(j) ? [] : [j]));
  const centre = mean(design.y);
  const n = design.y.length;
  const fixed = stay.map((j) =>
    Float64Array.from({ length: n }, (_, i) => design.x.data[i * design.x.columns + j] ?? 0),
  );
  return projectionOf(
    partedBy(covariance, n, fixed),
    design.y.map((y) => y - centre),
  );
}

/**
 * Fits of one response under any layout of its treatments by generalised least squares, with a
 * covariance that layouts leave as it is. All that a layout changes are sums of P over the rows of
 * each combination of levels: n²/2 additions a layout. Throws where a covariate is crossed with a
 * treatment.
 */
export function cellFits(design: Design, projection: BlockProjection): CellFits {
  const { py, rank } = projection;
  const n = design.y.length;
  const treated = design.terms.filter(({ role }) => role === 'treatment');
  if (treated.some(({ covariates }) => covariates.length > 0)) {
    throw new Error('randomisation test: a covariate is crossed with a treatment');
  }
  const columns = treated.flatMap((term) => term.columns);
  const cells = levelCells(design, treated);
  const { m, observed, filled } = cells;
  const d = columns.length;

  const centre = mean(design.y);
  const y = { py, ypy: dot(py, design.y) - centre * py.reduce((sum, value) => sum + value, 0) };
  const triangle = new Float64Array(m * m);
  const gram = new Float64Array(m * d);
  const sums = new Float64Array(m);
  const size = d + 1;
  /** Half of P summed over the rows of each two combinations. */
  const addUp = adder(projection, n, m, triangle);
  return {
    columns,
    count: m,
    observed,
    moved: cells.moved,
    without(coefficients) {
      const left = design.y.map((value, i) => {
        let sum = value - centre;
        columns.forEach((j, a) => {
          sum -= (coefficients[a] ?? 0) * (design.x.data[i * design.x.columns + j] ?? 0);
        });
        return sum;
      });
      const product = projection.times(left);
      return { py: product, ypy: dot(product, left) };
    },
    fit(cells, response = y) {
      sums.fill(0);
      for (let i = 0; i < n; i++) {
        const cell = cells[i] ?? 0;
        sums[cell] = (sums[cell] ?? 0) + (response.py[i] ?? 0);
      }
      addUp(cells);
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
      return { kept, swept, df, ms: meanSquare(swept[d * size + d] ?? 0, df, response) };
    },
    refit({ kept, swept: known, df }, layout, response) {
      sums.fill(0);
      for (let i = 0; i < n; i++) {
        const cell = layout[i] ?? 0;
        sums[cell] = (sums[cell] ?? 0) + (response.py[i] ?? 0);
      }
      const along = Float64Array.from(filled, (own) =>
        own.reduce((sum, cell) => sum + (sums[cell] ?? 0), 0),
      );
      const swept = known.slice();
      let rss = response.ypy;
      for (let a = 0; a < d; a++) {
        if (kept[a] !== 1) continue;
        let coefficient = 0;
        for (let b = 0; b < d; b++) {
          if (kept[b] === 1) coefficient += (known[a * size + b] ?? 0) * (along[b] ?? 0);
        }
        swept[a * size + d] = coefficient;
        rss -= coefficient * (along[a] ?? 0);
      }
      swept[d * size + d] = rss;
      return { kept, swept, df, ms: meanSquare(rss, df, response) };
    },
  };
}

/** Sums a triangle of P, the diagonal halved, into `to` by combinations. */
function adder(
  { blocks, basis }: BlockProjection,
  n: number,
  m: number,
  to: Float64Array,
): (cells: Int32Array) => void {
  const r = basis.length;
  const along = new Float64Array(m * r);
  return (cells) => {
    to.fill(0);
    for (const { rows, w } of blocks) {
      const k = rows.length;
      for (let a = 0; a < k; a++) {
        const start = (cells[rows[a] ?? 0] ?? 0) * m;
        const from = a * k;
        for (let b = 0; b < a; b++) {
          const at = start + (cells[rows[b] ?? 0] ?? 0);
          to[at] = (to[at] ?? 0) + (w[from + b] ?? 0);
        }
        const own = start + start / m;
        to[own] = (to[own] ?? 0) + (w[from + a] ?? 0) / 2;
      }
    }
    along.fill(0);
    for (let k = 0; k < r; k++) {
      const column = basis[k];
      if (!column) continue;
      for (let i = 0; i < n; i++) {
        const at = (cells[i] ?? 0) * r + k;
        along[at] = (along[at] ?? 0) + (column[i] ?? 0);
      }
    }
    // A triangle of the products, the diagonal halved, as of the blocks.
    for (let c = 0; c < m; c++) {
      for (let e = 0; e <= c; e++) {
        let sum = 0;
        for (let k = 0; k < r; k++) sum += (along[c * r + k] ?? 0) * (along[e * r + k] ?? 0);
        to[c * m + e] = (to[c * m + e] ?? 0) - (e === c ? sum / 2 : sum);
      }
    }
  };
}

/** Residual mean square; what is rounding beside the response counts as nothing left. */
function meanSquare(rss: number, df: number, { ypy }: CellResponse): number {
  return rss > 1e-12 * ypy ? rss / df : 0;
}
