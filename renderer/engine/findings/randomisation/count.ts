import type { UnitKind } from '../../../../shared-types/trial/trial';
import {
  countArrangements,
  drawAll,
  leastAsExtreme,
  type RandomisationPlan,
  type RandomisationStatistic,
} from '../../stats/randomisation';
import type { RunsPart } from '../../trial';
import { shuffle, stream } from '../../trial/stream';

export interface RandomisationFound {
  term: string;
  /** What was drawn anew, e.g. `feed over trays`. */
  moved: string[];
  unit: UnitKind;
  runs: number;
  asExtreme: number;
  p: number;
  exact: boolean;
  /** The least p that this draw, or so many layouts, can give. */
  leastP: number;
  observed: number;
  /** Statistics of the layouts, thinned to at most 2,000, for a figure. */
  sample: number[];
  /** How the layouts were made, as a sentence. */
  method: string;
  /**
   * Why p is approximate: labels of other factors moved, or main effects with an interaction, which
   * were taken out of the response beforehand or not; or labels were shuffled where the scheme could not
   * draw; null: it is not.
   */
  approximate: 'together' | 'interaction' | 'taken-out' | 'shuffled' | null;
  /** Whether the model that answers is judged by the same test. */
  answers: boolean;
}

/** What listing or counting layouts finds. */
export type CountedLayouts = Pick<
  RandomisationFound,
  'runs' | 'asExtreme' | 'p' | 'exact' | 'leastP' | 'observed' | 'sample'
>;

/** Up to so many arrangements are listed one by one. */
export const LISTED = 50_000;

/** Layouts that are kept for a figure. */
const KEPT = 2000;

type Tell = (done: number, total: number) => void;

/** How many layouts are drawn, by which seed; of them only a part, where others count the rest. */
export interface LayoutsCounted {
  runs: number;
  seed: string;
  part?: RunsPart;
}

/** Every arrangement of the labels within groups once. */
export function listAll(
  plan: RandomisationPlan,
  statistic: RandomisationStatistic,
  tell: Tell,
): CountedLayouts {
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
  };
}

/** Labels shuffled within the groups of a plan: listed one by one where they are few. */
export function shuffleLabels(
  plan: RandomisationPlan,
  statistic: RandomisationStatistic,
  asked: LayoutsCounted,
  tell: Tell,
): CountedLayouts {
  if (countArrangements(plan) <= LISTED) return listAll(plan, statistic, tell);
  const labels = plan.observed.slice();
  return countLayouts(plan, statistic, asked, tell, (run) => {
    const random = stream(asked.seed, `redraw ${run}`);
    for (const group of plan.groups) {
      const held = shuffle(
        Int32Array.from(group, (u) => plan.observed[u] ?? 0),
        random,
      );
      group.forEach((u, i) => (labels[u] = held[i] ?? 0));
    }
    return labels;
  });
}

/** Of so many layouts one is kept for a figure. */
const everyKept = (runs: number): number => Math.max(1, Math.ceil(runs / KEPT));

/** Statistics for a figure, thinned. */
export function sampleOf(values: ArrayLike<number>): number[] {
  const every = everyKept(values.length);
  return Array.from(values).filter((_, i) => i % every === 0);
}

/**
 * How many of `runs` layouts give a statistic at least as large as the observed one, itself among
 * them: p = (1 + as extreme) / (1 + runs). `labelsOf` gives the label of each unit in one of them,
 * whichever were asked for before it.
 */
export function countLayouts(
  plan: RandomisationPlan,
  statistic: RandomisationStatistic,
  { runs, part = { after: 0, upTo: runs } }: LayoutsCounted,
  tell: Tell,
  labelsOf: (run: number) => ArrayLike<number>,
): CountedLayouts {
  const sums = new Float64Array(statistic.size);
  const value = (labels: ArrayLike<number>): number => {
    sums.fill(0);
    for (let unit = 0; unit < plan.unitRows.length; unit++) {
      statistic.addUnit(sums, unit, labels[unit] ?? 0);
    }
    return statistic.f(sums);
  };
  const observed = value(plan.observed);
  const least = leastAsExtreme(observed);
  const every = everyKept(runs);
  const sample: number[] = [];
  const total = part.upTo - part.after;
  let asExtreme = 0;
  for (let run = part.after; run < part.upTo; run++) {
    const f = value(labelsOf(run));
    if (f >= least) asExtreme++;
    if (run % every === 0) sample.push(f);
    if (run % 100 === 0) tell(run - part.after, total);
  }
  tell(total, total);
  const leastP = 1 / (1 + runs);
  return {
    runs,
    asExtreme,
    observed,
    p: (1 + asExtreme) * leastP,
    leastP,
    exact: false,
    sample,
  };
}

/** Parts of the layouts counted side by side; all layouts that there can be, every part has listed. */
export function joinedLayouts(parts: readonly RandomisationFound[]): RandomisationFound {
  const [first] = parts;
  if (!first) throw new RangeError('no part of the layouts was counted; one or more are expected');
  if (first.exact) return first;
  const asExtreme = parts.reduce((sum, part) => sum + part.asExtreme, 0);
  return {
    ...first,
    asExtreme,
    p: (1 + asExtreme) * first.leastP,
    sample: parts.flatMap(({ sample }) => sample),
  };
}
