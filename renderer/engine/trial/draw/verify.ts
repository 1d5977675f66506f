import type { Assignment, Layout } from '../../../../shared-types/layout';
import type { TrialInput } from '../input';
import { assignmentsOf, prepareSite } from './draw';
import { drawnSite } from './drawnFrom';
import { misfitsOf } from '../fit/fit';
import type { Site } from '../site/site';
import { applySwaps } from './swaps';
import { plantDifferences } from '../plants/verifyPlants';
import { list } from '../../../words';

export type LayoutState = 'missing' | 'fresh' | 'stale';

/** Whether the plan is still what its layout was drawn from. */
export function layoutState(input: TrialInput, layout: Layout | null): LayoutState {
  if (!layout) return 'missing';
  return drawnSite(input, layout) ? 'fresh' : 'stale';
}

export interface Verification {
  /** False where the plan changed since the draw, so that it can't be drawn again. */
  redrawn: boolean;
  /** Pots whose treatment, block or plant is not what seed and logged exchanges give. */
  differing: string[];
  /** What differs, a sentence for each of these pots. */
  said: string[];
}

/**
 * Draws the layout again from its seed, makes its logged exchanges and compares pot by pot. `site`:
 * what it was drawn from, where that is known already.
 */
export function verifyLayout(
  input: TrialInput,
  layout: Layout,
  site = drawnSite(input, layout),
): Verification {
  if (!site || misfitsOf(site).length > 0) return { redrawn: false, differing: [], said: [] };
  const drawn = assignmentsOf(site, prepareSite(site).draw(layout.seed));
  const expected = applySwaps(input.trial, drawn, layout.swaps);
  const plants = new Map(
    plantDifferences(input, drawn, layout).map(({ potId, said }) => [potId, said] as const),
  );
  const kept = new Map(layout.assignments.map((a) => [a.potId, a]));
  const codeOf = new Map(site.pots.map((pot) => [pot.id, pot.code] as const));
  const differing: string[] = [];
  const said: string[] = [];
  for (const wanted of expected) {
    const found = kept.get(wanted.potId);
    kept.delete(wanted.potId);
    const parts = found ? differences(site, found, wanted) : ['no entry in the layout'];
    const plant = plants.get(wanted.potId);
    if (found && plant !== undefined) parts.push(plant);
    if (parts.length === 0) continue;
    differing.push(wanted.potId);
    said.push(`Pot ${codeOf.get(wanted.potId) ?? wanted.potId} has ${list(parts)}.`);
  }
  for (const potId of kept.keys()) {
    differing.push(potId);
    said.push(`Pot ${potId} is in the layout, but is no measured pot.`);
  }
  return { redrawn: true, differing, said };
}

/** What one pot has and what it should have, in words. */
function differences(site: Site, found: Assignment, wanted: Assignment): string[] {
  const parts: string[] = [];
  for (const factor of site.trial.factors) {
    const [here, drawn] = [found.levels[factor.id], wanted.levels[factor.id]];
    if (here === drawn) continue;
    const nameOf = (id: string | undefined): string =>
      id === undefined ? 'no level' : (factor.levels.find((level) => level.id === id)?.name ?? id);
    parts.push(`${nameOf(here)} of ${factor.name} where ${nameOf(drawn)} was drawn`);
  }
  const known = new Set(site.trial.factors.map((factor) => factor.id));
  const strangers = Object.keys(found.levels).filter((id) => !known.has(id));
  if (strangers.length > 0) parts.push(`levels of unknown factors (${strangers.join(', ')})`);
  if (found.block !== wanted.block) {
    parts.push(`the block “${found.block}” where “${wanted.block}” was drawn`);
  }
  return parts;
}
