import type { DataTable, FitRequest } from '../../../../shared-types/fit';
import type { Design } from '../design';
import { termContrasts } from '../hypotheses';
import { rowsOf } from '../linear';
import type { Estimate, RandomisedFamily } from '../model';
import {
  cellFits,
  combine,
  glsEstimates,
  jointF,
  layoutsOf,
  referenceOf,
  untreatedProjection,
} from '../randomisation';
import type {
  Allocation,
  CellFit,
  CellResponse,
  KnownCovariance,
  Layouts,
  Projection,
} from '../randomisation';
import { nullCovariance } from './nullCovariance';

/** A term's F beside those that other layouts of the same draw give it. */
export interface RandomisedTest {
  readonly df: number;
  readonly dfError: number;
  readonly statistic: number;
  readonly p: number;
  readonly asExtreme: number;
  readonly layouts: number;
  readonly exact: boolean;
  readonly leastP: number;
  /** Whether other things than the tested one moved, or its parts had to be taken out first. */
  readonly approximate: boolean;
  /** Whether the estimated effects of the other terms were taken out of the response first. */
  readonly takenOut: boolean;
  /** The factors that moved. */
  readonly moved: readonly string[];
  /** The statistic of each layout. */
  readonly others: Float64Array;
}

/** Tests of what was drawn over single rows, by layouts drawn anew. */
export interface Randomisation {
  /** Test of a term of the design; null where nothing in it was drawn over rows. */
  test(term: number): RandomisedTest | null;
  /** Differences between levels of `of`; null where those were not drawn over rows, all of them. */
  family(of: readonly string[], pairs: readonly Float64Array[]): RandomisedFamily | null;
  /** A mean by the least squares that tests and differences come from. */
  mean(weights: Float64Array): Estimate;
}

/** What the response says where no treatment does anything; the same for every layout. */
export interface UntreatedModel {
  readonly covariance: KnownCovariance;
  readonly projection: Projection;
}

export function untreatedModel(
  request: FitRequest,
  table: DataTable,
  design: Design,
): UntreatedModel {
  const covariance = nullCovariance(request, table, design.y);
  return { covariance, projection: untreatedProjection(design, covariance) };
}

/**
 * Randomisation tests by generalised least squares. The variance parameters are estimated once,
 * without the treatments, so that they are the same for every layout; the residual mean square in
 * that metric is each layout's own.
 *
 * A main effect is tested by layouts in which the other factors of its draw stay as they are. An
 * interaction has no such layouts: the terms it is adjusted for are taken out of the response
 * first (Freedman & Lane 1983), and the test is approximate.
 */
export function randomisationOf(
  request: FitRequest,
  table: DataTable,
  design: Design,
  allocation: Allocation,
  untreated = untreatedModel(request, table, design),
): Randomisation {
  const { covariance, projection } = untreated;
  const fits = cellFits(design, projection);
  const observed = fits.fit(fits.observed);
  const contrasts = termContrasts(design, request.tests);
  const short = (weights: Float64Array): Float64Array =>
    Float64Array.from(fits.columns, (j) => weights[j] ?? 0);

  const laid = new Map<string, Layouts>();
  const layouts = (names: readonly string[]): Layouts => {
    const key = names.join('\n');
    const found = laid.get(key) ?? layoutsOf(design, fits, allocation, names);
    laid.set(key, found);
    return found;
  };
  const solved = new Map<string, CellFit[]>();
  const solve = (names: readonly string[]): CellFit[] => {
    const key = names.join('\n');
    const found = solved.get(key) ?? layouts(names).cells.map((cells) => fits.fit(cells));
    solved.set(key, found);
    return found;
  };
  const resolved = new Map<string, CellFit[]>();
  /** The same of the response without a term. */
  const solveWithout = (names: readonly string[], term: number): CellFit[] => {
    const key = `${names.join('\n')}\n\n${term}`;
    const known = resolved.get(key);
    if (known) return known;
    const { cells } = layouts(names);
    const response = without(term);
    const found = solve(names).map((fit, run) =>
      fits.refit(fit, cells[run] ?? fits.observed, response),
    );
    resolved.set(key, found);
    return found;
  };
  const drawn = (names: readonly string[]): string[] =>
    allocation.factors.filter((name) => names.includes(name));
  /** The response less all that treatments add without a term, where its layouts move those too. */
  const without = (term: number): CellResponse => {
    const rows = rowsOf(contrasts[term] ?? { rows: 0, columns: 0, data: new Float64Array(0) });
    return fits.without(constrained(observed, rows.map(short)));
  };

  const test = (term: number): RandomisedTest | null => {
    const outline = design.terms[term];
    const rows = contrasts[term];
    if (outline?.role !== 'treatment' || !rows || rows.rows === 0) return null;
    const names = drawn(outline.factors);
    if (names.length === 0) return null;
    const { exact, together, loose } = layouts(names);
    const takenOut = together || outline.factors.length > 1;
    const own = rowsOf(rows).map(short);
    const statistic = jointF(observed, own);
    const all = takenOut ? solveWithout(names, term) : solve(names);
    const others = Float64Array.from(all, (fit) => jointF(fit, own));
    const reference = referenceOf(others, exact, statistic);
    return {
      ...{ df: own.length, dfError: observed.df, statistic },
      ...{ p: reference.p(statistic), asExtreme: reference.asExtreme(statistic) },
      ...{ layouts: all.length, exact, leastP: reference.leastP },
      ...{ takenOut, approximate: takenOut || loose },
      ...{ moved: together ? allocation.factors : names, others },
    };
  };

  const family = (
    of: readonly string[],
    pairs: readonly Float64Array[],
  ): RandomisedFamily | null => {
    const names = drawn(of);
    if (names.length < of.length || names.length === 0) return null;
    const { exact, together } = layouts(names);
    const term = design.terms.findIndex(
      ({ factors, role }) =>
        role === 'treatment' &&
        factors.length === of.length &&
        factors.every((name) => of.includes(name)),
    );
    const all = together ? solveWithout(names, term) : solve(names);
    const weights = pairs.map(short);
    const estimates = weights.map((w) => combine(observed, w));
    if (estimates.some((one) => one === null)) return null;
    const size = (fit: CellFit, w: Float64Array): number => {
      const found = combine(fit, w);
      return found && found.se > 0 ? Math.abs(found.estimate) / found.se : Infinity;
    };
    const statistics = weights.map((w) => size(observed, w));
    const single = weights.map((w, k) =>
      referenceOf(
        Float64Array.from(all, (fit) => size(fit, w)),
        exact,
        statistics[k] ?? 0,
      ),
    );
    const largest = referenceOf(
      Float64Array.from(all, (fit) => weights.reduce((most, w) => Math.max(most, size(fit, w)), 0)),
      exact,
      Math.max(...statistics),
    );
    return {
      estimates: estimates.map((one) => ({
        estimate: one?.estimate ?? NaN,
        se: one?.se ?? NaN,
        df: observed.df,
      })),
      single,
      largest,
    };
  };
  let means: ReturnType<typeof glsEstimates> | null = null;
  return {
    test,
    family,
    mean: (weights) => (means ??= glsEstimates(design, covariance))(weights),
  };
}

/**
 * Coefficients of the treatments by least squares under the condition that some contrasts of them
 * are zero: β − C Lᵀ(L C Lᵀ)⁻¹Lβ, C the inverse of the cross products.
 */
function constrained(fit: CellFit, rows: readonly Float64Array[]): Float64Array {
  const { kept, swept } = fit;
  const d = kept.length;
  const size = d + 1;
  const inverse = (i: number, j: number): number =>
    kept[i] === 1 && kept[j] === 1 ? (swept[i * size + j] ?? 0) : 0;
  const beta = Float64Array.from(kept, (one, i) => (one === 1 ? (swept[i * size + d] ?? 0) : 0));
  // One contrast after the other, each with those before it already zero.
  const c = Float64Array.from({ length: d * d }, (_, k) => inverse(Math.floor(k / d), k % d));
  for (const row of rows) {
    const along = new Float64Array(d);
    let length = 0;
    let value = 0;
    let scale = 0;
    for (let i = 0; i < d; i++) {
      for (let j = 0; j < d; j++) along[i] = (along[i] ?? 0) + (c[i * d + j] ?? 0) * (row[j] ?? 0);
      length += (row[i] ?? 0) * (along[i] ?? 0);
      value += (row[i] ?? 0) * (beta[i] ?? 0);
      scale += (row[i] ?? 0) ** 2 * inverse(i, i);
    }
    if (!(length > 1e-12 * scale)) continue;
    for (let i = 0; i < d; i++) {
      beta[i] = (beta[i] ?? 0) - ((along[i] ?? 0) * value) / length;
      for (let j = 0; j < d; j++) {
        c[i * d + j] = (c[i * d + j] ?? 0) - ((along[i] ?? 0) * (along[j] ?? 0)) / length;
      }
    }
  }
  return beta;
}
