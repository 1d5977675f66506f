import { alphaOf } from '../alpha';
import {
  placeTraits,
  type DataTable,
  type FitRequest,
  type TermRow,
} from '../../../../shared-types/fit';
import type { Design } from '../design';
import type { Allocation, Layouts, SolvedByBlocks } from '../randomisation';
import type { Analysis } from './analysis';
import { CROWDED_COUNTS, isCrowded } from './countsModel';
import { countRandomisation, randomisationOf, untreatedModel } from './randomisation';
import type {
  Randomisation,
  RandomisationOptions,
  RandomisedTest,
  UntreatedModel,
} from './randomisation';
import { figures, list } from '../../../words';

/**
 * Whether what was drawn over single rows is tested by randomisation: under a position model with a
 * covariance of its own; and counts that vary more than Poisson, where they are few for their
 * coefficients.
 */
export function isRandomised({ position, counts }: FitRequest, design: Design): boolean {
  if (counts !== null) return counts !== 'poisson' && isCrowded(design);
  return position !== null && placeTraits[position.model].covarianceOf !== null;
}

/** The randomisation of such a request; null where its counts leave nothing to judge layouts by. */
export function randomisationFor(
  request: FitRequest,
  table: DataTable,
  design: Design,
  allocation: Allocation,
  options: RandomisationOptions = {},
): Randomisation | null {
  const { counts } = request;
  if (counts === null) return randomisationOf(request, table, design, allocation, options);
  if (counts === 'poisson') return null;
  return countRandomisation(request, table, design, allocation, options);
}

/**
 * The analysis with all that was drawn over single rows judged by layouts drawn anew, where those can
 * give a p below 1 − confidence; the rest stays as it was. Means are by the same least squares.
 */
export function withRandomisation(
  request: FitRequest,
  table: DataTable,
  analysis: Analysis,
  allocation: Allocation,
): Analysis {
  const { design, model } = analysis;
  const randomisation = randomisationFor(request, table, design, allocation);
  if (!randomisation) return analysis;
  const alpha = alphaOf(request.confidence);
  const tests = design.terms.map((_, i) => randomisation.test(i));
  const terms = analysis.terms.map((row, i) => randomisedRow(row, tests[i] ?? null, alpha));
  // A factor whose own test layouts can't decide is left to the model with all its differences.
  const decided = new Set(
    design.terms.flatMap(({ name }, i) => (terms[i]?.randomised ? [name] : [])),
  );
  const names = design.terms.map(({ name }) => name);
  const treatments = design.terms.filter(({ role }) => role === 'treatment');
  const wholly = treatments.every(({ name }) => decided.has(name));
  return {
    ...analysis,
    terms,
    model: {
      ...model,
      // On units of their own, means rest on the mean squares between those.
      ...(request.randomUnits.length === 0 && decided.size > 0
        ? { meanOf: (weights: Float64Array) => randomisation.mean(weights) }
        : {}),
      randomised(of, pairs, apart) {
        const name = of.join(' × ');
        if (names.includes(name) && !decided.has(name)) return null;
        const family = randomisation.family(of, pairs);
        const judges = apart ? (family?.single ?? []) : family ? [family.largest] : [];
        return judges.every(({ leastP }) => leastP < alpha) ? family : null;
      },
    },
    method: [...analysis.method, ...methodWords(terms, allocation, request)],
    warnings: [
      ...analysis.warnings.filter((text) => !(wholly && text.startsWith(CROWDED_COUNTS))),
      ...tests.flatMap((test, i) => randomisationWarnings(names[i] ?? '', test, alpha, request)),
    ],
  };
}

/** What one response after another to a layout says where no treatment does anything. */
export type UntreatedBy = (design: Design) => (y: Float64Array) => UntreatedModel;

/** What layouts say of one response; null: they cannot decide the term. */
export interface RandomisedDecisions {
  p(term: number): number | null;
  /** Whether p is below `level`. */
  finds(term: number, level: number): boolean | null;
}

/**
 * p of each term as `fit` gives it, for one response after another to the same layout, without what a
 * test does not need.
 */
export function randomisedTests(
  request: FitRequest,
  table: DataTable,
  design: Design,
  allocation: Allocation,
  untreatedBy: UntreatedBy | null,
): (y: Float64Array) => RandomisedDecisions {
  const alpha = alphaOf(request.confidence);
  const untreated =
    untreatedBy?.(design) ?? ((y) => untreatedModel(request, table, { ...design, y }));
  const laid = new Map<string, Layouts>();
  const solved: SolvedByBlocks = new WeakMap();
  return (y) => {
    const responding = { ...design, y };
    const randomisation = randomisationOf(request, table, responding, allocation, {
      untreated: untreated(y),
      laid,
      solved,
    });
    return {
      p(term) {
        const test = randomisation.test(term);
        return test && test.leastP < alpha ? test.p : null;
      },
      finds: (term, level) => randomisation.finds(term, alpha, level),
    };
  };
}

function randomisedRow(row: TermRow, test: RandomisedTest | null, alpha: number): TermRow {
  if (!test || !(test.leastP < alpha)) return row;
  const { df, dfError, statistic, p, asExtreme, layouts, exact, leastP, approximate } = test;
  return {
    ...row,
    df,
    dfError,
    statistic,
    p,
    kind: 'F',
    ss: null,
    ms: null,
    randomised: { layouts, asExtreme, exact, leastP, approximate },
  };
}

const LEAST_SQUARES =
  'generalised least squares, variance parameters estimated once without the treatments';
const OF_COUNTS =
  'log means by the likelihood of Poisson counts, their errors by the Pearson dispersion';

function methodWords(
  terms: readonly TermRow[],
  allocation: Allocation,
  { counts }: FitRequest,
): string[] {
  const judged = terms.filter(({ randomised }) => randomised);
  const [first] = judged;
  if (!first?.randomised) return [];
  const within = allocation.within === '' ? '' : ` within ${allocation.within}`;
  const told = judged.map(({ term, randomised }) => {
    const { layouts = 0, exact = false } = randomised ?? {};
    return `${term}: ${exact ? `all ${layouts}` : `${layouts} random`} layouts`;
  });
  const how = allocation.anew
    ? 'layouts drawn anew by the scheme of the draw'
    : `layouts in which the labels of ${list(allocation.factors)} are shuffled${within}, each with the others as they are`;
  return [
    `Randomisation test of ${list(judged.map(({ term }) => term))} by F and t of ` +
      `${counts === null ? LEAST_SQUARES : OF_COUNTS}: ${how} ` +
      `(${told.join('; ')}; seed ${allocation.seed}). An interval reaches as many standard errors ` +
      'as the share α of layouts exceed. Differences that are adjusted for one another, by Holm or ' +
      'otherwise, are judged by the largest |t| of them, so that p and interval agree; a procedure ' +
      'in steps would find somewhat more, but has no intervals that agree with it.',
  ];
}

function randomisationWarnings(
  term: string,
  test: RandomisedTest | null,
  alpha: number,
  { counts }: FitRequest,
): string[] {
  if (!test) return [];
  if (!(test.leastP < alpha)) {
    return [
      `${term} has no randomisation test: the least p that the draw can give is ` +
        `${figures(test.leastP, 2)}, not below ${figures(alpha, 2)}. ` +
        (counts === null ? 'It is tested after Kenward and Roger.' : 'The model tests it.'),
    ];
  }
  if (!test.approximate) return [];
  if (!test.takenOut) {
    return [
      `The randomisation test of ${term} is approximate: its labels are shuffled, for layouts cannot ` +
        'be drawn by the scheme itself.',
    ];
  }
  return [
    `The randomisation test of ${term} is approximate: no layouts keep all else as it was, so the ` +
      'estimated effects of the other terms are taken out first.',
  ];
}
