import { evenPortions } from './portions';
import type { Site, Tier } from './site';
import { shuffle, stream } from './stream';

export interface Drawn {
  /** For every tier of the site: the treatment (index of `combinations`) of every unit. */
  treatmentOf: Int32Array[];
  candidates: number;
}

/** Draws every tier by the trial's scheme. The site must have no misfits. */
export function drawTreatments(
  site: Site,
  seed: string,
  _startByPot?: ReadonlyMap<string, number>,
): Drawn {
  return { treatmentOf: site.tiers.map((tier) => drawTier(tier, seed)), candidates: 1 };
}

function drawTier(tier: Tier, seed: string): Int32Array {
  const treatmentOf = new Int32Array(tier.units.count);
  const portions = evenPortions(tier, stream(seed, `left over|${tier.unit}`));
  tier.groups.forEach((group, g) => {
    const portion = shuffle(Int32Array.from(portions[g] ?? []), stream(seed, group.key));
    group.units.forEach((unit, i) => (treatmentOf[unit] = portion[i] ?? 0));
  });
  return treatmentOf;
}
