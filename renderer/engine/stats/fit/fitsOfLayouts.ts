import type { FitRequest } from '../../../../shared-types/fit';
import { entry } from '../../entry';
import type { Design } from '../design';
import { termContrasts } from '../hypotheses';
import { rowsOf } from '../linear';
import { cellFits, constrained, layoutsOf } from '../randomisation';
import type { Allocation, CellFit, Layouts, Projection } from '../randomisation';

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

export function fitsOfLayouts(
  design: Design,
  projection: Projection,
  allocation: Allocation,
  tests: FitRequest['tests'],
): FitsOfLayouts {
  const fits = cellFits(design, projection);
  const observed = fits.fit(fits.observed);
  const contrasts = termContrasts(design, tests);
  const short = (weights: Float64Array): Float64Array =>
    Float64Array.from(fits.columns, (j) => weights[j] ?? 0);
  const contrastsOf = (term: number): Float64Array[] => {
    const rows = contrasts[term];
    return rows ? rowsOf(rows).map(short) : [];
  };
  const layouts = kept((names: readonly string[]) => layoutsOf(design, fits, allocation, names));
  const solve = kept((names: readonly string[]) =>
    layouts(names).cells.map((cells) => fits.fit(cells)),
  );
  const solveWithout = kept((names: readonly string[], term: number) => {
    const { cells } = layouts(names);
    const response = fits.without(constrained(observed, contrastsOf(term)));
    return solve(names).map((fit, run) => fits.refit(fit, entry(cells, run), response));
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
