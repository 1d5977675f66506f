import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change } from '../../edit';
import { splitPotId } from '../../potsInRack';
import { duplicateShelf } from '../rack/shelves/duplicateShelf';
import type { Plan } from '../../../../shared-types/plan';

/**
 * All shelves of the rack once more, `times` over, on top of it; what is given on a shelf, tray or
 * pot is given on its copy too.
 */
export const repeatShelves: Command<{ times: number }> = {
  name: 'repeatShelves',
  label: ({ times }, plan) => `Add ${times * plan.rack.shelves.length} shelves like these`,
  run: (plan, { times }) => {
    if (!Number.isInteger(times) || times < 1 || times > 20) {
      throw new Refusal(`Shelves are repeated 1 to 20 times; ${times} was found.`);
    }
    let grown: Plan = plan;
    const modelOf = new Map<string, string>();
    for (let time = 0; time < times; time++) {
      for (const model of plan.rack.shelves) {
        grown = duplicateShelf.run(grown, { shelfId: model.id });
        const copy = grown.rack.shelves.at(-1);
        if (!copy) continue;
        modelOf.set(copy.id, model.id);
        copy.trays.forEach((tray, t) => modelOf.set(tray.id, model.trays[t]?.id ?? ''));
      }
    }
    return change(grown, (draft) => {
      for (const factor of draft.trial?.factors ?? []) {
        const known = [...factor.where];
        for (const [copyId, modelId] of modelOf) {
          for (const { unitId, levelId } of known) {
            const unit = copyOf(unitId, modelId, copyId);
            if (unit !== null) factor.where.push({ unitId: unit, levelId });
          }
        }
      }
    });
  },
};

function copyOf(unitId: string, modelId: string, copyId: string): string | null {
  if (unitId === modelId) return copyId;
  const pot = splitPotId(unitId);
  return pot?.trayId === modelId ? `${copyId}:${pot.row}:${pot.column}` : null;
}
