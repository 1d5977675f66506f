import type { DataTable, FitRequest } from '../../../../shared-types/fit';
import { num, real } from '../../entry';
import { sameNames, type Design } from '../design';
import type { Estimate, RandomisedFamily } from '../model';
import {
  cellFits,
  combine,
  countFits,
  glsEstimates,
  isRarer,
  jointF,
  referenceOf,
  untreatedProjection,
} from '../randomisation';
import type {
  Allocation,
  CellFit,
  KnownCovariance,
  Layouts,
  BlockProjection,
  SolvedByBlocks,
} from '../randomisation';
import { fitsOfLayouts, type FitsOfLayouts, type LayoutOptions } from './fitsOfLayouts';
import { logExposure } from './countsModel';
import { nullCovariance } from './covariance/nullCovariance';

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
  /** Whether its p is below `level`, for less work; null where no p of layouts is below `alpha`. */
  finds(term: number, alpha: number, level: number): boolean | null;
  /** Differences between levels of `of`; null where those were not drawn over rows, all of them. */
  family(of: readonly string[], pairs: readonly Float64Array[]): RandomisedFamily | null;
  /** A mean by the fit that tests and differences come from. */
  mean(weights: Float64Array): Estimate;
}

export interface RandomisationOptions extends Partial<LayoutOptions> {
  untreated?: UntreatedModel;
  /** Keeps what layouts come to under one covariance, for other responses that have the same. */
  solved?: SolvedByBlocks;
}

/** What the response says where no treatment does anything; the same for every layout. */
export interface UntreatedModel {
  readonly covariance: () => KnownCovariance;
  readonly projection: BlockProjection;
}

export function untreatedModel(
  request: FitRequest,
  table: DataTable,
  design: Design,
): UntreatedModel {
  const covariance = nullCovariance(request, table, design.y);
  return { covariance: () => covariance, projection: untreatedProjection(design, covariance) };
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
  {
    untreated = untreatedModel(request, table, design),
    tell = () => undefined,
    laid = new Map<string, Layouts>(),
    solved = new WeakMap(),
  }: RandomisationOptions = {},
): Randomisation {
  const cells = cellFits(design, untreated.projection, solved);
  const fits = fitsOfLayouts(design, cells, allocation, request.tests, { tell, laid });
  let means: ReturnType<typeof glsEstimates> | null = null;
  return {
    ...testsBy(design, allocation, fits),
    mean: (weights) => (means ??= glsEstimates(design, untreated.covariance()))(weights),
  };
}

function testsBy(
  design: Design,
  allocation: Allocation,
  fits: FitsOfLayouts,
): Omit<Randomisation, 'mean'> {
  return {
    test: (term) => testOf(design, allocation, fits, term),
    finds: (term, alpha, level) => findsOf(design, allocation, fits, { term, alpha, level }),
    family: (of, pairs) => familyOf(design, fits, of, pairs),
  };
}

/**
 * The same for counts, by Wald's F and t of maximum likelihood over the Pearson dispersion. Nothing can be
 * taken out of counts, so that interactions, and factors that cannot move alone, have no such test. null
 * where the fit of the layout as it is does not settle.
 */
export function countRandomisation(
  request: FitRequest,
  table: DataTable,
  design: Design,
  allocation: Allocation,
  { tell = () => undefined, laid = new Map<string, Layouts>() }: Partial<LayoutOptions> = {},
): Randomisation | null {
  const offset = request.offset === null ? null : logExposure(request.offset, table, design);
  const cells = countFits(design, offset);
  const fits = fitsOfLayouts(design, cells, allocation, request.tests, { tell, laid });
  if (!(fits.observed.ms > 0)) return null;
  const movesAlone = (factors: readonly string[]): boolean =>
    factors.length === 1 && !fits.layouts(fits.drawn(factors)).together;
  const tests = testsBy(design, allocation, fits);
  const isTold = (term: number): boolean => {
    const { factors = [], role } = design.terms[term] ?? {};
    return role === 'treatment' && fits.drawn(factors).length > 0 && movesAlone(factors);
  };
  return {
    test: (term) => (isTold(term) ? tests.test(term) : null),
    finds: (term, alpha, level) => (isTold(term) ? tests.finds(term, alpha, level) : null),
    family: (of, pairs) =>
      fits.drawn(of).length === of.length && movesAlone(of) ? tests.family(of, pairs) : null,
    mean(weights) {
      const found = combine(fits.observed, fits.short(weights));
      const { df } = fits.observed.solution;
      return { estimate: found?.estimate ?? NaN, se: found?.se ?? NaN, df };
    },
  };
}

/** How a term is tested; null where nothing in it was drawn over rows. */
function plannedTest(
  design: Design,
  fits: FitsOfLayouts,
  term: number,
): {
  own: readonly Float64Array[];
  names: string[];
  without: number | null;
  layouts: Layouts;
} | null {
  const outline = design.terms[term];
  const own = fits.contrastsOf(term);
  if (outline?.role !== 'treatment' || own.length === 0) return null;
  const names = fits.drawn(outline.factors);
  if (names.length === 0) return null;
  const layouts = fits.layouts(names);
  const takenOut = layouts.together || outline.factors.length > 1;
  return { own, names, without: takenOut ? term : null, layouts };
}

function testOf(
  design: Design,
  allocation: Allocation,
  fits: FitsOfLayouts,
  term: number,
): RandomisedTest | null {
  const planned = plannedTest(design, fits, term);
  if (!planned) return null;
  const { own, names, without, layouts } = planned;
  const { exact, together, loose } = layouts;
  const { observed } = fits;
  const statistic = jointF(observed, own);
  const all = fits.solve(names, without);
  const others = new Float64Array(all.length);
  all.forEach((fit, run) => (others[run] = jointF(fit, own)));
  const reference = referenceOf(others, exact, statistic);
  const takenOut = without !== null;
  return {
    df: own.length,
    dfError: observed.solution.df,
    statistic,
    p: reference.p(statistic),
    asExtreme: reference.asExtreme(statistic),
    layouts: all.length,
    exact,
    leastP: reference.leastP,
    takenOut,
    approximate: takenOut || loose,
    moved: together ? allocation.factors : names,
    others,
  };
}

function findsOf(
  design: Design,
  allocation: Allocation,
  fits: FitsOfLayouts,
  { term, alpha, level }: { term: number; alpha: number; level: number },
): boolean | null {
  const planned = plannedTest(design, fits, term);
  if (!planned) return null;
  const { own, names, without, layouts } = planned;
  const { count, exact } = layouts;
  // The least p is that of the layouts that tie for the largest F.
  if (exact || !((1 + layouts.alike()) / (1 + count) < alpha)) {
    const test = testOf(design, allocation, fits, term);
    return test && test.leastP < alpha ? test.p < level : null;
  }
  const fitOf = fits.each(names, without);
  return isRarer(count, (run) => jointF(fitOf(run), own), jointF(fits.observed, own), level);
}

function familyOf(
  design: Design,
  fits: FitsOfLayouts,
  of: readonly string[],
  pairs: readonly Float64Array[],
): RandomisedFamily | null {
  const names = fits.drawn(of);
  if (names.length < of.length || names.length === 0) return null;
  const { exact, together } = fits.layouts(names);
  const term = design.terms.findIndex(
    ({ factors, role }) => role === 'treatment' && sameNames(factors, of),
  );
  const all = fits.solve(names, together ? term : null);
  const { observed } = fits;
  const weights = pairs.map(fits.short);
  const estimates = weights.map((w) => combine(observed, w));
  if (estimates.some((one) => one === null)) return null;
  const statistics = weights.map((w) => ratio(observed, w));
  const others = weights.map((w) => Float64Array.from(all, (fit) => ratio(fit, w)));
  const most = Float64Array.from(all, (_, run) =>
    others.reduce((largest, own) => Math.max(largest, real(own, run)), 0),
  );
  return {
    estimates: estimates.map((one) => ({
      estimate: one?.estimate ?? NaN,
      se: one?.se ?? NaN,
      df: observed.solution.df,
    })),
    single: others.map((own, k) => referenceOf(own, exact, num(statistics, k))),
    largest: referenceOf(most, exact, Math.max(...statistics)),
  };
}

/** |estimate| / SE of a combination of coefficients; Infinity where it has no error. */
function ratio(fit: CellFit, weights: Float64Array): number {
  const found = combine(fit, weights);
  return found && found.se > 0 ? Math.abs(found.estimate) / found.se : Infinity;
}
