import type { Site, Tier } from '../site/site';
import { shuffle } from '../stream';
import type { Stream } from '../stream';
import { num, whole } from '../../entry';

/** The next pot in each direction within the tray, by unit number; −1 where there is none. */
export interface Neighbours {
  before: [Int32Array, Int32Array];
  after: [Int32Array, Int32Array];
}

/** Side-by-side pots along rows and along columns. An empty hole or a guard pot parts them. */
export function neighboursOf(site: Site, tier: Tier): Neighbours {
  const unitAt = new Map<string, number>();
  site.pots.forEach((pot, i) => {
    unitAt.set(`${pot.trayId}:${pot.row}:${pot.column}`, whole(tier.units.classOf, i));
  });
  const make = (rowStep: number, columnStep: number): Int32Array => {
    const next = new Int32Array(tier.units.count).fill(-1);
    site.pots.forEach((pot, i) => {
      const key = `${pot.trayId}:${pot.row + rowStep}:${pot.column + columnStep}`;
      next[whole(tier.units.classOf, i)] = unitAt.get(key) ?? -1;
    });
    return next;
  };
  return { before: [make(0, -1), make(-1, 0)], after: [make(0, 1), make(1, 0)] };
}

/** How many pots of one treatment in a line exceed the cap, along the row and column of a unit. */
export function excessAt(
  unit: number,
  treatmentOf: Int32Array,
  neighbours: Neighbours,
  cap: number,
): number {
  const own = treatmentOf[unit];
  let excess = 0;
  for (const way of [0, 1] as const) {
    let run = 1;
    for (const step of [neighbours.before[way], neighbours.after[way]]) {
      let at = step[unit] ?? -1;
      while (at >= 0 && treatmentOf[at] === own) {
        run++;
        at = step[at] ?? -1;
      }
    }
    excess += Math.max(0, run - cap);
  }
  return excess;
}

// Proposals per unit while looking for an allowed arrangement, and while mixing one. Where there is
// room one is found in a few dozen.
const REPAIR_STEPS = 400;
const MIXING_STEPS = 8;

/**
 * Rearranges treatments within their groups until no line of like neighbours is longer than the
 * cap, then mixes by random exchanges that keep to it: exchanges are proposed symmetrically, so the
 * mixing settles on the uniform distribution over the allowed arrangements it can reach. False where
 * no allowed arrangement was found.
 */
export function separateLikes(
  groups: readonly { units: readonly number[] }[],
  treatmentOf: Int32Array,
  neighbours: Neighbours,
  cap: number,
  random: Stream,
): boolean {
  const units: number[] = [];
  const partners: (readonly number[])[] = [];
  for (const group of groups) {
    for (const unit of group.units) {
      units.push(unit);
      partners[unit] = group.units;
    }
  }
  const excess = (unit: number): number => excessAt(unit, treatmentOf, neighbours, cap);
  const exchange = (a: number, b: number): void => {
    const kept = whole(treatmentOf, a);
    treatmentOf[a] = whole(treatmentOf, b);
    treatmentOf[b] = kept;
  };
  const pick = (list: readonly number[]): number => num(list, random.integer(list.length));

  let steps = REPAIR_STEPS * units.length;
  for (;;) {
    const bad = shuffle(
      units.filter((unit) => excess(unit) > 0),
      random,
    );
    if (bad.length === 0) break;
    for (const unit of bad) {
      const other = pick(partners[unit] ?? [unit]);
      if (--steps < 0) return false;
      if (treatmentOf[unit] === treatmentOf[other]) continue;
      const before = excess(unit) + excess(other);
      exchange(unit, other);
      const worse = excess(unit) + excess(other) > before;
      // Now and then a step uphill, out of a dead end.
      if (worse && random.integer(100) > 0) exchange(unit, other);
    }
  }
  for (let step = MIXING_STEPS * units.length; step > 0; step--) {
    const unit = pick(units);
    const other = pick(partners[unit] ?? [unit]);
    if (treatmentOf[unit] === treatmentOf[other]) continue;
    exchange(unit, other);
    if (excess(unit) > 0 || excess(other) > 0) exchange(unit, other);
  }
  return true;
}
