import { potsOfRack } from '../engine/geometry';
import type { Pot } from '../engine/geometry';
import type { Plan } from '../../shared-types/plan';
import { exchangePlants, placedIn } from './exchange';
import type { Placed } from './exchange';

// Places are kept to a tenth of a millimetre; less is rounding.
const SAME_PLACE_MM = 0.01;

/** The first thing in which a plan no longer says what its drawn layout said. */
export type LayoutChange =
  | { of: 'layout' | 'trial' | 'blocks' | 'scheme' | 'constraint' | 'factors' | 'draw' }
  | { of: 'pot'; potId: string };

/**
 * What an edit changes in a drawn layout or in what it was drawn for; null: nothing, or no more than
 * an exchange that the layout logs and a substitute plant that the incidents tell of.
 */
export function changeOfLayout(before: Plan, after: Plan): LayoutChange | null {
  const { layout, trial } = before;
  if (!layout || !trial) return null;
  if (!after.trial) return { of: 'trial' };
  if (!after.layout) return { of: 'layout' };

  const fixed = ['blocks', 'scheme', 'constraint'] as const;
  const changed = fixed.find((key) => !same(trial[key], after.trial?.[key]));
  if (changed !== undefined) return { of: changed };

  let expected: Placed = placedIn(before);
  const newSwaps = after.layout.swaps.slice(layout.swaps.length);
  for (const swap of newSwaps) expected = exchangePlants(expected, swap.a, swap.b);
  const found = placedIn(after);
  if (!same(expected.factors.map(withoutNames), found.factors.map(withoutNames))) {
    return { of: 'factors' };
  }
  const drawn = (plan: Plan) => {
    const { seed, scheme, drawnAt, drawnFrom, swaps } = plan.layout ?? {};
    return { seed, scheme, drawnAt, drawnFrom, swaps: swaps?.slice(0, layout.swaps.length) };
  };
  if (
    found.assignments.length !== expected.assignments.length ||
    !same(drawn(before), drawn(after))
  ) {
    return { of: 'draw' };
  }
  const logged = new Set(
    after.records.incidents.slice(before.records.incidents.length).flatMap((one) => one.about),
  );
  const moved = expected.assignments.find((a, i) => {
    const now = found.assignments[i];
    // Another plant in the pot: the treatment stays, and the log says so.
    const plant = logged.has(`pot:${a.potId}`) ? now?.plant : a.plant;
    return !same({ ...a, plant }, now);
  });
  return moved ? { of: 'pot', potId: moved.potId } : null;
}

/** The pots of the rack by their permanent id. */
export function potsById(plan: Plan): Map<string, Pot> {
  return new Map(potsOfRack(plan.rack).map((pot) => [pot.id, pot]));
}

/** What an edit would do to a pot, as the end of a sentence; null where the pot stays as it is. */
export function faultOf(old: Pot, now: Pot | undefined): string | null {
  const fault = lossOf(old, now);
  if (fault !== null || !now) return fault;
  if (now.code !== old.code) return `become ${now.code}, against its printed label`;
  if (Math.hypot(now.xMm - old.xMm, now.yMm - old.yMm) > SAME_PLACE_MM) return 'move';
  return null;
}

/** As `faultOf`, but a pot may move on its shelf and take another code: the drawing was corrected. */
export function lossOf(old: Pot, now: Pot | undefined): string | null {
  if (!now) return 'vanish';
  if (now.shelfId !== old.shelfId) return 'change its shelf';
  if (now.bayId !== old.bayId) return 'come under other lamps';
  if (now.guard === old.guard) return null;
  return now.guard ? 'become a guard pot' : 'no longer be a guard pot';
}

/** A factor as far as plants depend on it; its names may be spelled better at any time. */
function withoutNames(factor: Placed['factors'][number]) {
  const { id, kind, unit, levels, where } = factor;
  const places = [...where].sort((a, b) => (a.unitId < b.unitId ? -1 : 1));
  return {
    id,
    kind,
    unit,
    levels: levels.map(({ id: level, times = 1 }) => ({ level, times })),
    places,
  };
}

/** Whether two values are alike all through; plain data only. */
export function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => same(Reflect.get(a, key), Reflect.get(b, key)))
  );
}
