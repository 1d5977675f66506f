import type { Plan } from '../../shared-types/plan';
import { change } from './edit';
import { seenFromLast } from './runs';

/** What an earlier trial gives to the one after it. */
export interface CarriedOver {
  /** Between plants, and between units treated alike, in the unit of the main result. */
  spread?: { plantSd: number; unitSd?: number } | null;
  /** What was learnt, in a line for the notes. */
  learnt?: string;
}

/** Chance of finding the difference that is worth finding, where nobody has said one. */
const USUAL_POWER = 0.8;

/**
 * A plan for the trial after this one: the same rack, light, water and design in a single run, with
 * nothing drawn, planted, recorded, fixed or accepted yet. What was learnt is added to its notes, and
 * the spread found is what its power is told from. The plan it comes from keeps its records.
 */
export function nextTrialFrom(shown: Plan, { spread = null, learnt = '' }: CarriedOver = {}): Plan {
  // The rack as it is now, not the one that an earlier run was grown on.
  const plan = seenFromLast(shown);
  const blank: Plan = {
    ...plan,
    title: `${plan.title.slice(0, 80)}, next trial`,
    notes: [plan.notes, learnt].filter((text) => text !== '').join('\n\n'),
    layout: null,
    records: { values: {}, second: {}, marks: {}, incidents: [] },
    acceptedNotices: [],
  };
  delete blank.plants;
  delete blank.swap;
  delete blank.earlierRuns;
  return change(blank, ({ trial }) => {
    if (!trial) return;
    trial.startDate = null;
    trial.harvestDate = null;
    delete trial.analysisLocked;
    if (spread) {
      trial.expected = {
        smallestDifference: trial.expected?.smallestDifference ?? spread.plantSd,
        power: trial.expected?.power ?? USUAL_POWER,
        plantSd: spread.plantSd,
        unitSd: spread.unitSd ?? trial.expected?.unitSd ?? null,
      };
    }
    for (const measurement of trial.measurements) measurement.date = null;
    for (const factor of trial.factors) {
      for (const contrast of factor.contrasts ?? []) delete contrast.preSpecified;
    }
  });
}
