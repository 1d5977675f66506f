import type { RandomisationPlan } from './plan';

/**
 * The same test of some factors alone: their labels move between units that are alike in all the
 * others, so that those stay where they are.
 */
export function holdOthers(plan: RandomisationPlan, names: readonly string[]): RandomisationPlan {
  const at = (moving: boolean): number[] =>
    plan.moved.flatMap((name, m) => (names.includes(name) === moving ? [m] : []));
  const [moving, still] = [at(true), at(false)];
  const key = (unit: number, those: readonly number[]): string => {
    const label = plan.labels[plan.observed[unit] ?? -1] ?? [];
    return those.map((m) => label[m] ?? -1).join(' ');
  };
  const labels: number[][] = [];
  const known = new Map<string, number>();
  const observed = Int32Array.from(plan.observed, (label, unit) => {
    if (label < 0) return -1;
    const own = key(unit, moving);
    const found = known.get(own) ?? labels.length;
    if (found === labels.length) {
      known.set(own, found);
      labels.push(moving.map((m) => plan.labels[label]?.[m] ?? -1));
    }
    return found;
  });
  const groups = plan.groups.flatMap((units) => {
    const homes = new Map<string, number[]>();
    for (const unit of units) {
      const home = key(unit, still);
      const held = homes.get(home);
      if (held) held.push(unit);
      else homes.set(home, [unit]);
    }
    return [...homes.values()].map((held) => Int32Array.from(held));
  });
  return { ...plan, moved: moving.map((m) => plan.moved[m] ?? ''), labels, observed, groups };
}
