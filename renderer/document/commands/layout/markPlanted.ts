import { Refusal } from '../../command';
import type { Command } from '../../command';
import { layoutIn } from '../../edit';
import { potTest } from '../../potsInRack';
import { codeOfPot } from '../../queries/names';

/** The plants stand in their holes: from now on the lock holds. */
export const markPlanted: Command<{ date: string }> = {
  name: 'markPlanted',
  label: ({ date }) => `Mark layout planted on ${date}`,
  run: (plan, { date }) => {
    const layout = layoutIn(plan);
    if (layout.plantedAt !== null) {
      throw new Refusal(`The layout is marked planted since ${layout.plantedAt} already.`);
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
    return { ...plan, layout: { ...layout, plantedAt: date } };
  },
};
