import type { FitRequest } from '../../../../shared-types/fit';
import { real } from '../../entry';
import type { Design } from '../design';
import { termContrasts } from '../hypotheses';
import { rowsOf } from '../linear';
import { constrained, layoutsOf } from '../randomisation';
import type { Allocation, CellFit, CellFits, Layouts } from '../randomisation';

/** The fits of a response under the layouts of its draw, each made once and kept. */
export interface FitsOfLayouts {
  /** The fit of the layout as it was drawn. */
  readonly observed: CellFit;
  /** Those of the names that were drawn over single rows. */
  drawn(names: readonly string[]): string[];
  layouts(names: readonly string[]): Layouts;
  /**
   * The fit of each layout that moves `names`, one after the other; given a term, of the response less
   * all that treatments add without it.
   */
  each(names: readonly string[], without: number | null): (run: number) => CellFit;
  /** All of them. */
  solve(names: readonly string[], without: number | null): CellFit[];
  /** Weights over all columns of the design, cut down to those that are fitted. */
  short(weights: Float64Array): Float64Array;
  /** Contrasts of a term over those columns; none where it has none. */
  contrastsOf(term: number): Float64Array[];
}

export interface LayoutOptions {
  /** Told now and then how many of the layouts are done. */
  tell: (done: number, total: number) => void;
  /** Keeps the layouts, by the factors that move, for other responses to the same design. */
  laid: Map<string, Layouts>;
}

/** Layouts between two words on how far the work has come. */
const TELL_EVERY = 100;

export function fitsOfLayouts(
  design: Design,
  fits: CellFits,
  allocation: Allocation,
  tests: FitRequest['tests'],
  { tell, laid }: LayoutOptions,
): FitsOfLayouts {
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
  const responseWithout = kept((term: number) =>
    fits.without(constrained(observed, contrastsOf(term))),
  );
  const each = (names: readonly string[], without: number | null) => {
    const { at } = layouts(names);
    const response = without === null ? undefined : responseWithout(without);
    return (run: number) => fits.fit(at(run), response);
  };
  const solve = kept((names: readonly string[], without: number | null) => {
    const { count } = layouts(names);
    const fitOf = each(names, without);
    return Array.from({ length: count }, (_, run) => {
      if (without === null && run % TELL_EVERY === 0) tell(run, count);
      return fitOf(run);
    });
  });
  return {
    observed,
    layouts,
    each,
    solve,
    short,
    contrastsOf,
    drawn: (names) => allocation.factors.filter((name) => names.includes(name)),
  };
}

/** Computes once for each question. */
function kept<A extends readonly unknown[], T>(compute: (...asked: A) => T): (...asked: A) => T {
  const known = new Map<string, T>();
  return (...asked) => {
    const key = JSON.stringify(asked);
    const found = known.get(key) ?? compute(...asked);
    known.set(key, found);
    return found;
  };
}
