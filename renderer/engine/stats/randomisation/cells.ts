import type { Design } from '../design';
import { dot, mean } from '../linear';
import { partedBy, projectionOf, type BlockProjection } from './blocks';
import { factorInPlace, forward, type CellFit, type CellSolution } from './cellFit';
import { pairSums } from './pairSums';
import { levelCells } from './levelCells';
import type { KnownCovariance } from './covariance';
import { Refusal } from '../../../words';
import { add, real, whole } from '../../entry';

export interface CellFits {
  /** Indices in the design of the columns that belong to treatments. */
  readonly columns: readonly number[];
  /** How many combinations of all treatments' levels there are. */
  readonly count: number;
  /** Combination of all treatments' levels at each row, as the design has it. */
  readonly observed: Int32Array;
  /** The combination that has `levels` of some factors (by name) and is else like `cell`. */
  moved(cell: number, levels: ReadonlyMap<string, number>): number;
  /**
   * The fit where each row has the given combination; of the response, or of another one. What rests
   * on the list of cells alone is kept for as long as the list is.
   */
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
export function untreatedProjection(design: Design, covariance: KnownCovariance): BlockProjection {
  const treated = new Set(
    design.terms.filter(({ role }) => role === 'treatment').flatMap(({ columns }) => columns),
  );
  const stay = design.columns.flatMap((_, j) => (treated.has(j) ? [] : [j]));
  const centre = mean(design.y);
  const n = design.y.length;
  const fixed = stay.map((j) =>
    Float64Array.from({ length: n }, (_, i) => real(design.x.data, i * design.x.columns + j)),
  );
  return projectionOf(
    partedBy(covariance, n, fixed),
    design.y.map((y) => y - centre),
  );
}

/** What layouts of one design come to under one covariance, whatever the response. */
export type SolvedCells = (cells: Int32Array) => CellSolution;

/** Kept from one response to the next, by the blocks of the covariance that they share. */
export type SolvedByBlocks = WeakMap<BlockProjection['blocks'], SolvedCells>;

/**
 * Fits of one response under any layout of its treatments by generalised least squares, with a
 * covariance that layouts leave as it is. All that a layout changes are sums of P over the rows of
 * each combination of levels: n²/2 additions a layout. Throws where a covariate is crossed with a
 * treatment.
 */
export function cellFits(
  design: Design,
  projection: BlockProjection,
  solved: SolvedByBlocks = new WeakMap(),
): CellFits {
  const { py } = projection;
  const n = design.y.length;
  const treated = design.terms.filter(({ role }) => role === 'treatment');
  if (treated.some(({ covariates }) => covariates.length > 0)) {
    throw new Refusal('randomisation test: a covariate is crossed with a treatment');
  }
  const columns = treated.flatMap((term) => term.columns);
  const cells = levelCells(design, treated);
  const { m, observed, filled } = cells;
  const d = columns.length;
  const solve = solved.get(projection.blocks) ?? solvedCells(projection, n, m, filled);
  solved.set(projection.blocks, solve);

  const centre = mean(design.y);
  const y = { py, ypy: dot(py, design.y) - centre * py.reduce((sum, value) => sum + value, 0) };
  const sums = new Float64Array(m);
  return {
    columns,
    count: m,
    observed,
    moved: cells.moved,
    without(coefficients) {
      const left = design.y.map((value, i) => {
        let sum = value - centre;
        columns.forEach((j, a) => {
          sum -= real(coefficients, a) * real(design.x.data, i * design.x.columns + j);
        });
        return sum;
      });
      const product = projection.times(left);
      return { py: product, ypy: dot(product, left) };
    },
    fit(layout, response = y) {
      const solution = solve(layout);
      sums.fill(0);
      for (let i = 0; i < n; i++) {
        const cell = whole(layout, i);
        add(sums, cell, real(response.py, i));
      }
      const along = new Float64Array(d);
      for (let a = 0; a < d; a++) along[a] = sumOf(sums, filled[a]);
      forward(solution, along);
      let rss = response.ypy;
      for (let a = 0; a < d; a++) rss -= real(along, a) ** 2;
      return { solution, along, ms: meanSquare(rss, solution.df, response) };
    },
  };
}

/** Solutions of layouts, kept by their lists of cells. */
function solvedCells(
  projection: BlockProjection,
  n: number,
  m: number,
  filled: readonly Int32Array[],
): SolvedCells {
  const d = filled.length;
  const sums = new Float64Array(m * m);
  const along = new Float64Array(m);
  const addUp = pairSums(projection, m, sums);
  const known = new WeakMap<Int32Array, CellSolution>();
  return (cells) => {
    const found = known.get(cells);
    if (found) return found;
    addUp(cells);
    const lower = new Float64Array(d * d);
    for (let a = 0; a < d; a++) {
      const own = filled[a];
      if (!own) continue;
      along.fill(0);
      for (let k = 0; k < own.length; k++) {
        const from = whole(own, k) * m;
        for (let c = 0; c < m; c++) add(along, c, real(sums, from + c));
      }
      for (let b = 0; b <= a; b++) lower[a * d + b] = sumOf(along, filled[b]);
    }
    const kept = factorInPlace(lower, d);
    let rank = 0;
    for (const one of kept) rank += one;
    const joint: CellSolution['joint'] = new Map();
    const made = { kept, rank, lower, df: n - projection.rank - rank, joint };
    known.set(cells, made);
    return made;
  };
}

function sumOf(values: Float64Array, of: Int32Array | undefined): number {
  let sum = 0;
  // Plain loops: this is run for every layout of every harvest of a rehearsal.
  if (of) for (let k = 0; k < of.length; k++) sum += real(values, whole(of, k));
  return sum;
}

/** Residual mean square; what is rounding beside the response counts as nothing left. */
function meanSquare(rss: number, df: number, { ypy }: CellResponse): number {
  return rss > 1e-12 * ypy ? rss / df : 0;
}
