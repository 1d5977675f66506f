import type { Assignment, Layout } from '../../../shared-types/layout';
import type { Trial } from '../../../shared-types/trial';
import type { TrialInput } from './blocks';
import { assignmentsOf, prepareSite } from './draw';
import { drawnSite } from './drawn-from';
import { misfitsOf } from './fit';

export type LayoutState = 'missing' | 'fresh' | 'stale';

/** Whether the plan is still what its layout was drawn from. */
export function layoutState(input: TrialInput, layout: Layout | null): LayoutState {
  if (!layout) return 'missing';
  return drawnSite(input, layout) ? 'fresh' : 'stale';
}

export interface Verdict {
  /** False where the plan changed since the draw, so that it can't be drawn again. */
  redrawn: boolean;
  /** Pots whose treatment or block is not what seed and logged exchanges give. */
  differing: string[];
}

/** Draws the layout again from its seed, makes its logged exchanges and compares pot by pot. */
export function verifyLayout(input: TrialInput, layout: Layout): Verdict {
  const site = drawnSite(input, layout);
  if (!site || misfitsOf(site).length > 0) return { redrawn: false, differing: [] };
  const drawn = assignmentsOf(site, prepareSite(site).draw(layout.seed));
  const expected = applySwaps(input.trial, drawn, layout.swaps);
  const kept = new Map(layout.assignments.map((a) => [a.potId, a]));
  const differing = expected
    .filter((wanted) => {
      const found = kept.get(wanted.potId);
      kept.delete(wanted.potId);
      return !found || found.block !== wanted.block || !sameLevels(found, wanted);
    })
    .map((wanted) => wanted.potId);
  return { redrawn: true, differing: [...differing, ...kept.keys()] };
}

/**
 * Exchanges of pots made at the rack. What is applied to single pots, and the plant, moves with
 * the pot; what is applied to a tray or shelf, and the block, stays with the place.
 */
export function applySwaps(
  trial: Pick<Trial, 'factors'>,
  assignments: readonly Assignment[],
  swaps: Layout['swaps'],
): Assignment[] {
  const byPot = new Map(assignments.map((a) => [a.potId, a]));
  const carried = trial.factors.filter((factor) => factor.unit === 'pot').map((f) => f.id);
  for (const swap of swaps) {
    const a = byPot.get(swap.a);
    const b = byPot.get(swap.b);
    if (!a || !b) {
      const unknown = a ? swap.b : swap.a;
      throw new Error(`layout swap: pot ${unknown} is not in the layout; a drawn pot is expected`);
    }
    byPot.set(a.potId, { ...a, plant: b.plant, levels: withLevels(a, b, carried) });
    byPot.set(b.potId, { ...b, plant: a.plant, levels: withLevels(b, a, carried) });
  }
  return [...byPot.values()];
}

function withLevels(
  place: Assignment,
  from: Assignment,
  carried: readonly string[],
): Record<string, string> {
  const levels = { ...place.levels };
  for (const id of carried) {
    const level = from.levels[id];
    if (level !== undefined) levels[id] = level;
  }
  return levels;
}

function sameLevels(a: Assignment, b: Assignment): boolean {
  const ids = new Set([...Object.keys(a.levels), ...Object.keys(b.levels)]);
  return [...ids].every((id) => a.levels[id] === b.levels[id]);
}
