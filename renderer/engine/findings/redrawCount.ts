import type { UnitKind } from '../../../shared-types/trial';
import { drawAll, type RedrawPlan, type RedrawStatistic } from '../stats/redraw';

export interface RedrawFound {
  term: string;
  /** What was drawn anew, e.g. `feed over trays`. */
  moved: string[];
  unit: UnitKind;
  runs: number;
  asExtreme: number;
  p: number;
  exact: boolean;
  /** The least p that this draw, or so many redraws, can give. */
  leastP: number;
  observed: number;
  /** Statistics of the redraws, thinned to at most 2,000, for a figure. */
  sample: number[];
  /** How the redraws were made, as a sentence. */
  method: string;
}

/** Up to so many arrangements are listed one by one. */
export const LISTED = 50_000;

/** Share of F within which two arrangements count as equally extreme. */
const TIE = 1e-9;

/** Redraws that are kept for a figure. */
const KEPT = 2000;

type Tell = (done: number, total: number) => void;

/** Every arrangement of the labels within groups once. */
export function listAll(
  plan: RedrawPlan,
  statistic: RedrawStatistic,
  tell: Tell,
): Omit<RedrawFound, 'term' | 'moved' | 'unit'> {
  tell(0, 1);
  const { runs, asExtreme, observed, largest } = drawAll(plan, statistic);
  tell(1, 1);
  return {
    runs,
    asExtreme,
    observed,
    p: asExtreme / runs,
    leastP: largest / runs,
    exact: true,
    sample: [],
    method: `All ${runs} layouts that the draw could have given were listed.`,
  };
}

/**
 * How many of `runs` redraws give a statistic at least as large as the observed one, itself among
 * them: p = (1 + as extreme) / (1 + runs). `labelsOf` gives the label of each unit in one redraw.
 */
export function countRedraws(
  plan: RedrawPlan,
  statistic: RedrawStatistic,
  runs: number,
  tell: Tell,
  labelsOf: (run: number) => ArrayLike<number>,
): Omit<RedrawFound, 'term' | 'moved' | 'unit' | 'method'> {
  const sums = new Float64Array(statistic.size);
  const value = (labels: ArrayLike<number>): number => {
    sums.fill(0);
    for (let unit = 0; unit < plan.unitRows.length; unit++) {
      statistic.addUnit(sums, unit, labels[unit] ?? 0);
    }
    return statistic.f(sums);
  };
  const observed = value(plan.observed);
  const least = observed * (1 - TIE);
  const sample: number[] = [];
  const keepEvery = Math.max(1, Math.ceil(runs / KEPT));
  let asExtreme = 0;
  for (let run = 0; run < runs; run++) {
    const f = value(labelsOf(run));
    if (f >= least) asExtreme++;
    if (run % keepEvery === 0) sample.push(f);
    if (run % 100 === 0) tell(run, runs);
  }
  const leastP = 1 / (1 + runs);
  return { runs, asExtreme, observed, p: (1 + asExtreme) * leastP, leastP, exact: false, sample };
}
