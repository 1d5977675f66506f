import type { Drawn } from '../draw/preparedDraw';
import { givenLevels } from '../site/site';
import type { Site } from '../site/site';
import { num, whole } from '../../entry';

/** Level number of every factor, by its id, at every measured pot. */
export type LevelNumbers = ReadonlyMap<string, Int32Array>;

/** Level number of every factor at every measured pot in one draw. */
export function levelNumbers(site: Site, drawn: Pick<Drawn, 'treatmentOf'>): LevelNumbers {
  const numbers = new Map<string, Int32Array>();
  for (const factor of site.trial.factors) {
    if (factor.kind !== 'fixed') continue;
    const ids = factor.levels.map((level) => level.id);
    numbers.set(
      factor.id,
      Int32Array.from(givenLevels(site, factor), (id) => ids.indexOf(id ?? '')),
    );
  }
  site.tiers.forEach((tier, k) => {
    const treatmentOf = drawn.treatmentOf[k] ?? new Int32Array(0);
    for (const factor of tier.factors) {
      const ids = factor.levels.map((level) => level.id);
      const levelOf = tier.combinations.map((c) => ids.indexOf(c.levels[factor.id] ?? ''));
      numbers.set(
        factor.id,
        tier.units.classOf.map((unit) => num(levelOf, whole(treatmentOf, unit))),
      );
    }
  });
  return numbers;
}
