import type { Factor } from '../../../../shared-types/trial/trial';
import { givenLevels } from '../site/site';
import type { Site } from '../site/site';

/** Level id of a factor at every measured pot; null while it is not known. */
export type LevelsAtPots = (factor: Factor) => (string | null)[] | null;

/** Levels from the drawn layout where there is one, else those of given factors only. */
export function levelsAtPots(
  site: Site,
  levelsOf: ReadonlyMap<string, Readonly<Record<string, string>>> | null,
): LevelsAtPots {
  return (factor) => {
    if (levelsOf) return site.pots.map((pot) => levelsOf.get(pot.id)?.[factor.id] ?? null);
    return factor.kind === 'fixed' ? givenLevels(site, factor) : null;
  };
}
