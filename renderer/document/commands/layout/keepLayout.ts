import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, trialIn } from '../../edit';
import { inRun } from '../../runs';
import { storeDay } from '../../edits/storeValue';
import type { Layout } from '../../../../shared-types/layout';
import type { Plan } from '../../../../shared-types/plan';
import { sayDay } from '../../../words';

/**
 * Keeps a layout that was just drawn, in place of an earlier one that is not planted. Listed plants
 * leave their pots with the earlier layout, and take the starting values they brought with them.
 */
export const keepLayout: Command<{
  layout: Layout;
  /** Drawn with it, for runs whose draw is bound to it or to which it is bound. */
  ofOtherRuns?: readonly { runId: string; layout: Layout }[];
}> = {
  name: 'keepLayout',
  label: ({ layout }) => `Draw layout with seed ${layout.seed}`,
  run: (plan, { layout, ofOtherRuns = [] }) =>
    ofOtherRuns.reduce(
      (sum, other) => inRun(sum, other.runId, (seen) => kept(seen, other.layout)),
      kept(plan, layout),
    ),
};

function kept(plan: Plan, layout: Layout): Plan {
  trialIn(plan);
  if (plan.layout && plan.layout.plantedAt !== null) {
    throw new Refusal(
      `The layout is planted since ${sayDay(plan.layout.plantedAt)}; unlock it before drawing another.`,
      { wayOn: 'unlock-layout' },
    );
  }
  return { ...change(plan, takeOutPlants), layout: { ...layout, plantedAt: null } };
}

function takeOutPlants(draft: Plan): void {
  const listed = new Map(draft.plants?.map((plant) => [plant.code, plant.startValue]));
  const atStart = draft.trial?.measurements.filter((m) => m.timepoint === 'start') ?? [];
  for (const { potId, plant } of draft.layout?.assignments ?? []) {
    const startValue = plant === null ? undefined : listed.get(plant);
    if (startValue === undefined) continue;
    for (const { id } of atStart) {
      const values = draft.records.values[id];
      if (values?.[potId] !== startValue) continue;
      Reflect.deleteProperty(values, potId);
      storeDay(draft, id, potId);
    }
  }
}
