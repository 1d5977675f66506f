import type { FitRequest } from '../../../../shared-types/fit';
import { real } from '../../entry';
import type { Design } from '../design';
import { termContrasts } from '../hypotheses';
import { rowsOf } from '../linear';
import { cellFits, constrained, layoutsOf } from '../randomisation';
import type {
  Allocation,
  BlockProjection,
  CellFit,
  Layouts,
  SolvedByBlocks,
} from '../randomisation';

/** The fits of a response under the layouts of its draw, each made once and kept. */
export interface FitsOfLayouts {
  /** The fit of the layout as it was drawn. */
  readonly observed: CellFit;
  /** Those of the names that were drawn over single rows. */
  drawn(names: readonly string[]): string[];
  layouts(names: readonly string[]): Layouts;
  /** The fit of every layout that moves `names`. */
  solve(names: readonly string[]): CellFit[];
  /** The same of the response less all that treatments add without a term. */
  solveWithout(names: readonly string[], term: number): CellFit[];
  /** Weights over all columns of the design, cut down to those of the treatments. */
  short(weights: Float64Array): Float64Array;
  /** Contrasts of a term over the treatments' columns; none where it has none. */
  contrastsOf(term: number): Float64Array[];
}

export interface LayoutOptions {
  /** Told now and then how many of the layouts are done. */
  tell: (done: number, total: number) => void;
  /** Keeps the layouts, by the factors that move, for other responses to the same design. */
  laid: Map<string, Layouts>;
  /** Keeps what layouts come to under one covariance, for other responses that have the same. */
  solved: SolvedByBlocks;
}

/** Layouts between two words on how far the work has come. */
const TELL_EVERY = 100;

export function fitsOfLayouts(
  design: Design,
  projection: BlockProjection,
  allocation: Allocation,
  tests: FitRequest['tests'],
  { tell, laid, solved }: LayoutOptions,
): FitsOfLayouts {
  const fits = cellFits(design, projection, solved);
  const observed = fits.fit(fits.observed);
  const contrasts = termContrasts(design, tests);
  const short = (weights: Float64Array): Float64Array =>
    Float64Array.from(fits.columns, (j) => real(weights, j));
  const shortened = contrasts.map((rows) => (rows ? rowsOf(rows).map(short) : []));
  const contrastsOf = (term: number): Float64Array[] => shortened[term] ?? [];
  const layouts = (names: readonly string[]): Layouts => {
    const key = names.join('\n');
    const found = laid.get(key) ?? layoutsOf(design, fits, allocation, names);
    laid.set(key, found);
    return found;
  };
  const solve = kept((names: readonly string[]) => {
    const { cells: all } = layouts(names);
    return all.map((cells, run) => {
      if (run % TELL_EVERY === 0) tell(run, all.length);
      return fits.fit(cells);
    });
  });
  const solveWithout = kept((names: readonly string[], term: number) => {
    const { cells } = layouts(names);
    const response = fits.without(constrained(observed, contrastsOf(term)));
    return cells.map((own) => fits.fit(own, response));
  });
  return {
    ...{ observed, layouts, solve, solveWithout, short, contrastsOf },
    drawn: (names) => allocation.factors.filter((name) => names.includes(name)),
  };
}

/** Computes once for each list of names, and term. */
function kept<T>(
  compute: (names: readonly string[], term: number) => T,
): (names: readonly string[], term?: number) => T {
  const known = new Map<string, T>();
  return (names, term = -1) => {
    const key = JSON.stringify([names, term]);
    const found = known.get(key) ?? compute(names, term);
    known.set(key, found);
    return found;
  };
}
