import type { Plan } from '../../shared-types/plan';
import { change } from './edit';
import { seenFromLast } from './runs';

/**
 * A plan for the trial after this one: the same rack, light, water and design in a single run, with
 * nothing drawn, planted, recorded, fixed or accepted yet. The plan it comes from keeps its records.
 */
export function nextTrialFrom(shown: Plan): Plan {
  // The rack as it is now, not the one that an earlier run was grown on.
  const plan = seenFromLast(shown);
  const blank: Plan = {
    ...plan,
    title: `${plan.title.slice(0, 80)}, next trial`,
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
    for (const measurement of trial.measurements) measurement.date = null;
    for (const factor of trial.factors) {
      for (const contrast of factor.contrasts ?? []) delete contrast.preSpecified;
    }
  });
}
