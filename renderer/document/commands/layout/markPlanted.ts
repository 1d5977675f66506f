import { Refusal } from '../../command';
import type { Command } from '../../command';
import { layoutIn } from '../../edit';
import { potTest } from '../../potsInRack';
import { conditionsOf, runName, runsOf, withRuns } from '../../runs';
import { codeOfPot } from '../../queries/names';
import { sayDay } from '../../../words';

/** The plants stand in their holes: from now on the lock holds. */
export const markPlanted: Command<{ date: string }> = {
  name: 'markPlanted',
  label: ({ date }) => `Mark layout planted on ${sayDay(date)}`,
  run: (plan, { date }) => {
    const layout = layoutIn(plan);
    if (layout.plantedAt !== null) {
      throw new Refusal(`The layout is marked planted since ${sayDay(layout.plantedAt)} already.`);
    }
    const isPot = potTest(plan.rack);
    const lost = layout.assignments.find((assignment) => !isPot(assignment.potId));
    if (lost) {
      const code = codeOfPot(plan, lost.potId);
      throw new Refusal(`The rack has no pot ${code} any more; draw the layout again first.`);
    }
    const added = plan.trial?.factors.find((factor) =>
      layout.assignments.some((assignment) => assignment.levels[factor.id] === undefined),
    );
    if (added) {
      throw new Refusal(`The layout does not know the factor ${added.name}; draw it again first.`);
    }
    const runs = runsOf(plan);
    const at = runs.findIndex(({ id }) => id === plan.runId);
    const before = runs.slice(0, at).find((run) => (run.layout?.plantedAt ?? null) === null);
    if (before) {
      const name = runName(plan, before.id);
      throw new Refusal(`${name} is not planted yet; the runs of a trial follow one another.`);
    }
    const planted = { ...plan, layout: { ...layout, plantedAt: date } };
    if (at === runs.length - 1) return planted;
    // What later runs are grown on may change from now on.
    const grownOn = conditionsOf(plan);
    return withRuns(
      planted,
      runsOf(planted).map((run, i) => (i === at ? { ...run, grownOn } : run)),
    );
  },
};
