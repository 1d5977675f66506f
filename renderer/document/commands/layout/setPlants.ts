import { Refusal } from '../../command';
import type { Command } from '../../command';
import type { Plan } from '../../../../shared-types/plan';
import type { PlanPlant } from '../../../../shared-types/plant';

/** The plants that were weighed and wait for a pot; an empty list forgets them. */
export const setPlants: Command<{ plants: readonly PlanPlant[] }> = {
  name: 'setPlants',
  label: ({ plants }) =>
    plants.length === 0 ? 'Clear the list of plants' : `Keep a list of ${plants.length} plants`,
  run: (plan, { plants }) => {
    const codes = new Set<string>();
    for (const { code, startValue } of plants) {
      const key = code.trim().toLowerCase();
      if (codes.has(key))
        throw new Refusal(`Plant ${code} is listed twice; each has its own code.`);
      codes.add(key);
      if (key === '' || key.length > 40)
        throw new Refusal('A plant has a code of 1 to 40 letters.');
      if (!Number.isFinite(startValue)) throw new Refusal(`Plant ${code} has no starting value.`);
    }
    for (const { code, levels = {} } of plants) {
      for (const [factorId, levelId] of Object.entries(levels)) {
        const factor = plan.trial?.factors.find((one) => one.id === factorId);
        if (factor?.levels.some((level) => level.id === levelId)) continue;
        throw new Refusal(`Plant ${code} has a level that the trial does not know.`);
      }
    }
    const next: Plan = { ...plan };
    if (plants.length === 0) delete next.plants;
    else next.plants = plants.map((plant) => ({ ...plant, code: plant.code.trim() }));
    return next;
  },
};
