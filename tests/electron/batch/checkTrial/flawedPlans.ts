import { drawFor, potsOf, powersOf, trialInputOf } from '../../../../renderer/derive';
import { applyCommand } from '../../../../renderer/document/apply';
import { swapPots } from '../../../../renderer/document/commands';
import { newFlood } from '../../../../renderer/document/new';
import type { Plan } from '../../../../shared-types/plan';
import type { Rack } from '../../../../shared-types/rack';
import type { Factor, LevelSettings, Trial } from '../../../../shared-types/trial/trial';
import { example, undrawn } from '../../../builders/examplePlans';
import { kindOf, lampOf } from '../../../builders/rackParts';
import { factorOf, rackOf, trialOf } from '../../../builders/trialInput';

export const trays = { shelves: 1, traysPerShelf: 2, rows: 4, columns: 4 };

export function planOf(
  rack: Rack,
  factors: Factor[],
  more: Partial<Trial> = {},
): Plan & { trial: Trial } {
  const base = undrawn('basil');
  const light = { ...base.light, readings: [] };
  return { ...base, nextId: 10_000, rack, light, trial: trialOf(factors, more), flood: null };
}

export function drawn(plan: Plan & { trial: Trial }, seed = 'check'): Plan & { trial: Trial } {
  const layout = drawFor(plan, seed, '2026-03-01T09:00:00+00:00');
  if (!layout.ok) throw new Error(layout.reason);
  return { ...plan, layout: layout.value };
}

/** A given factor with the level of every unit: `1` for the first, `2` for the second… */
export function given(number: number, unit: Factor['unit'], where: Record<string, string>): Factor {
  const levels = Math.max(...Object.values(where).map(Number));
  return factorOf(number, unit, levels, {
    kind: 'fixed',
    where: Object.entries(where).map(([unitId, n]) => ({
      unitId,
      levelId: `l${100 * number + Number(n)}`,
    })),
  });
}

export const shelves = (levels: string): Record<string, string> =>
  Object.fromEntries([...levels].map((n, i) => [`s${i + 1}`, n]));

/** Level by the light at the pot: the brightest third, or every third of them. */
export function byLight(sorted: boolean): Plan {
  const base = undrawn('basil');
  const light = trialInputOf(base)?.ppfdByPot ?? new Map<string, number>();
  const pots = potsOf(base).filter((pot) => !pot.guard);
  const ranked = [...pots].sort((a, b) => (light.get(a.id) ?? 0) - (light.get(b.id) ?? 0));
  const where = Object.fromEntries(
    ranked.map((pot, i) => [
      pot.id,
      (sorted ? i >= (2 * pots.length) / 3 : i % 3 === 0) ? '1' : '2',
    ]),
  );
  return { ...base, nextId: 10_000, trial: trialOf([given(1, 'pot', where)]) };
}

/** A layout whose levels stand in different light, by so much less than its redraws keep to. */
export function drawnByLight(slack: number): Plan {
  const plan = drawn({
    ...undrawn('basil'),
    nextId: 10_000,
    trial: trialOf([factorOf(1, 'pot', 2)]),
  });
  const { layout } = plan;
  if (!layout) throw new Error('it is drawn');
  const ranked = [...layout.assignments].sort((a, b) => (a.ppfdUmol ?? 0) - (b.ppfdUmol ?? 0));
  // Three in four pots of the brighter half, and one in four of the other.
  const first = new Set(ranked.filter((_, i) => i % 4 < 3 === i >= ranked.length / 2));
  const assignments = layout.assignments.map((a) => ({
    ...a,
    levels: { f1: first.has(a) ? 'l101' : 'l102' },
  }));
  const meanOf = (level: string) => {
    const own = assignments.filter((a) => a.levels.f1 === level);
    return own.reduce((sum, a) => sum + (a.ppfdUmol ?? 0), 0) / own.length;
  };
  const gap = meanOf('l101') - meanOf('l102') + slack;
  const balanceLimits = [{ factorId: 'f1', measure: 'light', gap }] as const;
  return { ...plan, layout: { ...layout, assignments, balanceLimits: [...balanceLimits] } };
}

/** Of 36 pots 22 are at the edge; 18 have the first level, so many of them at the edge. */
export function edges(ofFirst: number): Plan {
  const plan = drawn(
    planOf(rackOf({ ...trays, traysPerShelf: 1, columns: 9 }), [factorOf(1, 'pot', 2)]),
  );
  if (!plan.layout) throw new Error('it is drawn');
  let [edge, inner] = [0, 0];
  const onEdge = new Map(potsOf(plan).map((pot) => [pot.id, pot.onEdge]));
  const assignments = plan.layout.assignments.map((a) => {
    const first = onEdge.get(a.potId) ? edge++ < ofFirst : inner++ < 18 - ofFirst;
    return { ...a, levels: { f1: first ? 'l101' : 'l102' } };
  });
  return { ...plan, layout: { ...plan.layout, assignments } };
}

/** Starting values one up and one down of their level's mean; the first level's is shifted. */
export function starts(shift: number): Plan {
  const plan = example('basil');
  const start = plan.trial.measurements.find((m) => m.timepoint === 'start' && m.unit === 'g');
  const cultivar = plan.trial.factors[1];
  if (!start || !cultivar || !plan.layout) throw new Error('basil has starts, cultivars, a layout');
  const seen = new Map<string, number>();
  const values = Object.fromEntries(
    plan.layout.assignments.map((a) => {
      const level = a.levels[cultivar.id] ?? '';
      const n = seen.get(level) ?? 0;
      seen.set(level, n + 1);
      const own = level === cultivar.levels[0]?.id ? shift : 0;
      return [a.potId, 10 + own + (n % 2 === 0 ? 1 : -1)];
    }),
  );
  const records = { ...plan.records, values: { ...plan.records.values, [start.id]: values } };
  return { ...plan, records };
}

/** The smallest difference that matters, as a share of what the feeds' trays can find. */
export function difference(share: number): Plan {
  const plan = undrawn('basil');
  const powers = powersOf(plan);
  const { expected } = plan.trial;
  const detectable = powers.ok ? powers.value[0]?.detectable : null;
  if (!detectable || !expected) throw new Error('basil has a power');
  return {
    ...plan,
    trial: { ...plan.trial, expected: { ...expected, smallestDifference: share * detectable } },
  };
}

export function altered(logged: boolean): Plan {
  const plan = drawn(planOf(rackOf(trays), [factorOf(1, 'pot', 4)]));
  const [first, ...rest] = plan.layout?.assignments ?? [];
  const other = rest.find((a) => a.levels['f1'] !== first?.levels['f1']);
  if (!plan.layout || !first || !other) throw new Error('it is drawn');
  const args = {
    a: first.potId,
    b: other.potId,
    date: '2026-03-02',
    reason: 'hole',
    recordsMove: true,
  };
  const swapped = applyCommand(plan, swapPots, args);
  if (!swapped.ok || !swapped.plan.layout) throw new Error('two pots can be exchanged');
  const layout = logged ? swapped.plan.layout : { ...swapped.plan.layout, swaps: [] };
  return { ...swapped.plan, layout };
}

/** Drawn, and so many pairs of pots exchanged at the rack, each logged. */
export function exchanged(pairs: number): Plan {
  let plan: Plan = drawn(planOf(rackOf(trays), [factorOf(1, 'pot', 2)]));
  const ids = plan.layout?.assignments.map(({ potId }) => potId) ?? [];
  for (let i = 0; i < pairs; i++) {
    const [a = '', b = ''] = [ids[2 * i], ids[2 * i + 1]];
    const args = { a, b, date: '2026-03-02', reason: 'hole', recordsMove: true };
    const done = applyCommand(plan, swapPots, args);
    if (!done.ok) throw new Error(done.reason);
    plan = done.plan;
  }
  return plan;
}

/** Other names for the levels since the draw, and as many levels as stated. */
export function renamed(levels: number): Plan {
  const plan = drawn(planOf(rackOf(trays), [factorOf(1, 'pot', 2)]));
  const factor = factorOf(1, 'pot', levels);
  const named = factor.levels.map((level, i) => ({ ...level, name: `Renamed ${i + 1}` }));
  return { ...plan, trial: { ...plan.trial, factors: [{ ...factor, levels: named }] } };
}

/** Four trays on two shelves and a factor applied through water; each list of trays has its reservoir. */
export function watered(...parts: (string[] | string)[]): Plan {
  const rack = rackOf({ ...trays, shelves: 2 });
  const placed = parts.find((part) => typeof part === 'string');
  const ids = ['t101', 't102', 't201', 't202'];
  const feed = placed
    ? given(1, 'tray', Object.fromEntries(ids.map((id, i) => [id, placed.charAt(i)])))
    : factorOf(1, 'tray', 2);
  const flood = newFlood('z1', rack);
  const [model] = flood.zones;
  if (!model) throw new Error('a new flood plan has a zone');
  const zones = parts
    .filter((part) => Array.isArray(part))
    .map((trayIds, i) => ({ ...model, id: `z${i + 1}`, name: `zone ${i + 1}`, trayIds }));
  return { ...planOf(rack, [{ ...feed, appliedThrough: 'water' }]), flood: { ...flood, zones } };
}

/** Two bright and two dim shelves; tray 1A changes places with another on day 15. */
export function carried(other: string, appliedThrough: Factor['appliedThrough'] = 'light'): Plan {
  const factor = { ...given(1, 'shelf', shelves('1212')), appliedThrough };
  const plan = planOf(rackOf({ ...trays, shelves: 4 }), [factor as Factor]);
  const places = {
    t101: { placeOf: other, turned: false },
    [other]: { placeOf: 't101', turned: false },
  };
  return { ...plan, light: { ...plan.light, rota: [{ fromDay: 15, toDay: 28, places }] } };
}

export const lit = (unit: Factor['unit']): Plan =>
  planOf(rackOf({ ...trays, shelves: 4 }), [{ ...factorOf(1, unit, 2), appliedThrough: 'light' }]);

/** Light shuffled over four shelves, each under lamps at full output, with settings by level. */
export function set(...settings: LevelSettings[]): Plan {
  const plan = lit('shelf');
  return withLamps(withLevels(plan, settings), [1, 1, 1, 1]);
}

/** Light fixed by hand, full output on shelf 1 and half of it on shelf 2, which is drawn at that. */
export function dimByHand(dimming: number): Plan {
  const factor = { ...given(1, 'shelf', shelves('12')), appliedThrough: 'light' as const };
  const plan = planOf(rackOf({ ...trays, shelves: 2 }), [factor]);
  const settings = [1, 0.5].map((d): LevelSettings => ({ through: 'light', dimming: d }));
  return withLamps(withLevels(plan, settings), [1, dimming]);
}

export function withLevels(plan: Plan, settings: readonly LevelSettings[]): Plan {
  const { trial } = plan;
  if (!trial) throw new Error('the plan has a trial');
  const factors = trial.factors.map((factor) => ({
    ...factor,
    levels: factor.levels.map((level, i) => {
      const own = settings[i];
      return own ? { ...level, settings: own } : level;
    }),
  }));
  return { ...plan, trial: { ...trial, factors } };
}

/** A lamp over each shelf, by its dimming. */
export function withLamps(plan: Plan, dimmings: readonly number[]): Plan {
  const rack = {
    lampKinds: [kindOf({ id: 'k9' })],
    shelves: plan.rack.shelves.map((shelf, i) => ({
      ...shelf,
      lamps: [lampOf({ id: `l${900 + i}`, kindId: 'k9', dimming: dimmings[i] ?? 1 })],
    })),
  };
  return { ...plan, light: { ...plan.light, photoperiodHours: 16 }, rack };
}

/** Drawn, and planted so many days after the draw. */
export function plantedOn(daysLater: number) {
  const plan = drawn(planOf(rackOf(trays), [factorOf(1, 'pot', 2)]));
  if (!plan.layout) throw new Error('the plan is drawn');
  const day = new Date(Date.parse(plan.layout.drawnAt.slice(0, 10)) + daysLater * 86_400_000);
  return { ...plan, layout: { ...plan.layout, plantedAt: day.toISOString().slice(0, 10) } };
}
