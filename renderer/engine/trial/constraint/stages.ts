import { logGamma } from '../../stats/distributions';
import { unitGridOf } from '../schemes/grid';
import type { DrawGroup, Site, Tier } from '../site/site';
import { schemeIsIncomplete, schemeUsesGrid } from '../site/site';

/** A part of the draw that is accepted or drawn again on its own. */
export interface DrawStage {
  name: string;
  /** Groups drawn in this stage, by number. */
  groups: number[];
  /** All groups drawn up to and with this stage: the balance is judged over them together. */
  upTo: number[];
}

/**
 * The stages of a tier's draw. Where every group lies on one shelf, shelves come one after the
 * other in the order in which they were added, each judged together with those before it
 * (sequential rerandomisation, Zhou, Ernst, Morgan, Rubin & Zhang 2018, Biometrika 105:745–752):
 * a new shelf then leaves the others' draws alone. Else the tier is one stage.
 */
export function stagesOf(site: Site, tier: Tier): DrawStage[] {
  const all = tier.groups.map((_, g) => g);
  const shelfOfUnit = new Map(tier.firstPot.map((pot, unit) => [unit, pot.shelfId] as const));
  const shelfOf = (group: DrawGroup): string | null => {
    const shelves = new Set(group.units.map((unit) => shelfOfUnit.get(unit) ?? ''));
    return shelves.size === 1 ? ([...shelves][0] ?? null) : null;
  };
  const shelves = tier.groups.map(shelfOf);
  const { scheme, blocks } = site.trial;
  // Bands of light move with every shelf that is added, even where each lies on one shelf.
  const pooled = schemeIsIncomplete(scheme) || (tier.usesBlocks && blocks.by === 'light');
  const global = pooled || shelves.includes(null);
  if (global || tier.unit === 'shelf') return [{ name: 'rack', groups: all, upTo: all }];
  const names = [...new Set(shelves)];
  return names.map((name, n) => ({
    name: name ?? '',
    groups: all.filter((g) => shelves[g] === name),
    upTo: all.filter((g) => names.indexOf(shelves[g] ?? null) <= n),
  }));
}

/** Natural logarithm of the number of different layouts of these groups (at least so many). */
export function logLayouts(site: Site, tier: Tier, groups: readonly DrawGroup[]): number {
  const full = tier.fullSet.length;
  const logFactorial = (n: number): number => (n < 2 ? 0 : logGamma(n + 1));
  let total = 0;
  for (const group of groups) {
    const n = group.units.length;
    if (schemeUsesGrid(site.trial.scheme)) {
      const grid = unitGridOf(tier, group);
      // Rows and columns permuted alone reach so many.
      total += logFactorial(grid?.rows ?? 1) + logFactorial((grid?.columns ?? 1) - 1);
      continue;
    }
    const sets = Math.floor(n / full);
    const over = n - sets * full;
    // Left-over places go to different cards of a full set, each the next of its treatment.
    let place = 0;
    total += logFactorial(n);
    for (const { times } of tier.combinations) {
      const more = Math.min(times, Math.max(0, over - place));
      total -= logFactorial(sets * times + more);
      place += times;
    }
  }
  return total;
}
