import type { Plan } from '../../../shared-types/plan';

/** Takes levels that are gone from the plants of a draft that brought them along. */
export function forgetLevels(
  draft: Plan,
  isGone: (factorId: string, levelId: string) => boolean,
): void {
  for (const plant of draft.plants ?? []) {
    const levels = Object.entries(plant.levels ?? {});
    const kept = levels.filter(([factorId, levelId]) => !isGone(factorId, levelId));
    if (kept.length < levels.length) plant.levels = Object.fromEntries(kept);
  }
}
