import { floodPlanSchema } from '../../../../shared-types/flood';
import type { Command } from '../../command';
import { checkMediaInUse } from '../../edits/mediaInUse';
import { lowestNextId } from '../../open/consistency';
import type { FloodPlan } from '../../../../shared-types/flood';

/** Sets all that is known of pumps, drains, water and circuits, or forgets it (null). */
export const setFlood: Command<{ flood: FloodPlan | null }> = {
  name: 'setFlood',
  label: ({ flood }) => (flood ? 'Edit flooding' : 'Remove flooding'),
  run: (plan, { flood }) => {
    checkMediaInUse(plan, flood?.media ?? []);
    const read = floodPlanSchema.nullable().safeParse(flood);
    // What the schema refuses is refused with its place when the whole plan is checked.
    const after = { ...plan, flood: read.success ? read.data : flood };
    return { ...after, nextId: Math.max(plan.nextId, lowestNextId(after)) };
  },
};
