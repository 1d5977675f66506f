import type { Assignment, Layout } from '../../../../shared-types/layout';
import type { Trial } from '../../../../shared-types/trial/trial';
import { Refusal } from '../../../words';

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
      throw new Refusal(
        `layout swap: pot ${unknown} is not in the layout; a drawn pot is expected`,
      );
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
