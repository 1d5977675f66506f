import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readArguments } from '../../../electron/batch/verb';
import { checkVerb } from '../../../electron/batch/verbs/check';
import { drawFor, potsOf, powersOf, trialInputOf } from '../../../renderer/derive';
import { applyCommand } from '../../../renderer/document/apply';
import { swapPots } from '../../../renderer/document/commands';
import { newFlood } from '../../../renderer/document/new';
import { writePlan } from '../../../renderer/document/open';
import { noticeKinds, type Notice, type NoticeKind } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import type { Factor, LevelSettings, Trial } from '../../../shared-types/trial/trial';
import { example, undrawn } from '../../builders/examplePlans';
import { kindOf, lampOf } from '../../builders/rackParts';
import { factorOf, rackOf, trialOf } from '../../builders/trialInput';
import { tempFolder } from '../tempFolder';

/** What the shell's `check` says of a plan. */
async function check(plan: Plan): Promise<{ ok: boolean; notices: Notice[] }> {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, writePlan(plan));
  return checkVerb.run(readArguments(checkVerb, [path])) as Promise<{
    ok: boolean;
    notices: Notice[];
  }>;
}

const OURS: readonly string[] = [...noticeKinds.trial, ...noticeKinds.layout];

const trays = { shelves: 1, traysPerShelf: 2, rows: 4, columns: 4 };

function planOf(rack: Rack, factors: Factor[], more: Partial<Trial> = {}): Plan & { trial: Trial } {
  const base = undrawn('basil');
  const light = { ...base.light, readings: [] };
  return { ...base, nextId: 10_000, rack, light, trial: trialOf(factors, more), flood: null };
}

function drawn(plan: Plan & { trial: Trial }, seed = 'check'): Plan & { trial: Trial } {
  const layout = drawFor(plan, seed, '2026-03-01T09:00:00+00:00');
  if (!layout.ok) throw new Error(layout.reason);
  return { ...plan, layout: layout.value };
}

/** A given factor with the level of every unit: `1` for the first, `2` for the second… */
function given(number: number, unit: Factor['unit'], where: Record<string, string>): Factor {
  const levels = Math.max(...Object.values(where).map(Number));
  return factorOf(number, unit, levels, {
    kind: 'fixed',
    where: Object.entries(where).map(([unitId, n]) => ({
      unitId,
      levelId: `l${100 * number + Number(n)}`,
    })),
  });
}

const shelves = (levels: string): Record<string, string> =>
  Object.fromEntries([...levels].map((n, i) => [`s${i + 1}`, n]));

/** Level by the light at the pot: the brightest third, or every third of them. */
function byLight(sorted: boolean): Plan {
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
function drawnByLight(slack: number): Plan {
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
function edges(ofFirst: number): Plan {
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
function starts(shift: number): Plan {
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
function difference(share: number): Plan {
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

function altered(logged: boolean): Plan {
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
function exchanged(pairs: number): Plan {
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
function renamed(levels: number): Plan {
  const plan = drawn(planOf(rackOf(trays), [factorOf(1, 'pot', 2)]));
  const factor = factorOf(1, 'pot', levels);
  const named = factor.levels.map((level, i) => ({ ...level, name: `Renamed ${i + 1}` }));
  return { ...plan, trial: { ...plan.trial, factors: [{ ...factor, levels: named }] } };
}

interface Case {
  what: string;
  flawed: () => Plan;
  sound: () => Plan;
  /** In the text: the figures that matter. */
  says: RegExp;
}

/** Four trays on two shelves and a factor applied through water; each list of trays has its reservoir. */
function watered(...parts: (string[] | string)[]): Plan {
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
function carried(other: string, appliedThrough: Factor['appliedThrough'] = 'light'): Plan {
  const factor = { ...given(1, 'shelf', shelves('1212')), appliedThrough };
  const plan = planOf(rackOf({ ...trays, shelves: 4 }), [factor as Factor]);
  const places = {
    t101: { placeOf: other, turned: false },
    [other]: { placeOf: 't101', turned: false },
  };
  return { ...plan, light: { ...plan.light, rota: [{ fromDay: 15, toDay: 28, places }] } };
}

const lit = (unit: Factor['unit']): Plan =>
  planOf(rackOf({ ...trays, shelves: 4 }), [{ ...factorOf(1, unit, 2), appliedThrough: 'light' }]);

/** Light shuffled over four shelves, each under lamps at full output, with settings by level. */
function set(...settings: LevelSettings[]): Plan {
  const plan = lit('shelf');
  return withLamps(withLevels(plan, settings), [1, 1, 1, 1]);
}

/** Light fixed by hand, full output on shelf 1 and half of it on shelf 2, which is drawn at that. */
function dimByHand(dimming: number): Plan {
  const factor = { ...given(1, 'shelf', shelves('12')), appliedThrough: 'light' as const };
  const plan = planOf(rackOf({ ...trays, shelves: 2 }), [factor]);
  const settings = [1, 0.5].map((d): LevelSettings => ({ through: 'light', dimming: d }));
  return withLamps(withLevels(plan, settings), [1, dimming]);
}

function withLevels(plan: Plan, settings: readonly LevelSettings[]): Plan {
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
function withLamps(plan: Plan, dimmings: readonly number[]): Plan {
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
function plantedOn(daysLater: number) {
  const plan = drawn(planOf(rackOf(trays), [factorOf(1, 'pot', 2)]));
  if (!plan.layout) throw new Error('the plan is drawn');
  const day = new Date(Date.parse(plan.layout.drawnAt.slice(0, 10)) + daysLater * 86_400_000);
  return { ...plan, layout: { ...plan.layout, plantedAt: day.toISOString().slice(0, 10) } };
}

const cases: Record<(typeof noticeKinds)['trial' | 'layout'][number], Case[]> = {
  'factor-not-replicated': [
    {
      what: 'two shelves for two levels, against three',
      flawed: () => planOf(rackOf({ ...trays, shelves: 2 }), [factorOf(1, 'shelf', 2)]),
      sound: () => planOf(rackOf({ ...trays, shelves: 3 }), [factorOf(1, 'shelf', 2)]),
      says: /Factor 1 is not replicated: each of its 2 levels sits on one shelf only/,
    },
  ],
  'carrier-shared': [
    {
      what: 'feed tray by tray from one reservoir, against a reservoir for each tray',
      flawed: () => watered(['t101', 't102', 't201', 't202']),
      sound: () => watered(['t101'], ['t102'], ['t201'], ['t202']),
      says: /Factor 1 is to differ from tray to tray, but some share a reservoir: zone 1 \(trays 1A, 1B, 2A and 2B\)/,
    },
    {
      what: 'feed placed by hand, two levels on one reservoir against one',
      flawed: () => watered(['t101', 't201'], ['t102', 't202'], '1122'),
      sound: () => watered(['t101', 't102'], ['t201', 't202'], '1122'),
      says: /Levels of Factor 1 share a reservoir: zone 1 \(trays 1A and 2A\) and zone 2/,
    },
    {
      what: 'light tray by tray under the same lamps, against shelf by shelf',
      flawed: () => lit('tray'),
      sound: () => lit('shelf'),
      says: /Factor 1 is to differ from tray to tray, but some share their lamps: shelf 1 \(trays 1A and 1B\)/,
    },
  ],
  'treatment-not-applied': [
    {
      what: 'a tray carried from dim to bright lamps, against one carried along its shelf',
      flawed: () => carried('t201'),
      sound: () => carried('t102'),
      says: /The rota carries tray 1A on day 15 and tray 2A on day 15 to another level of Factor 1/,
    },
    {
      what: 'a tray with its medium carried to another, which goes with it',
      flawed: () => carried('t201'),
      sound: () => carried('t201', 'medium'),
      says: /another level of Factor 1/,
    },
    {
      what: 'two levels that say the same of the lamps in two ways, against one dimmed a little',
      flawed: () => set({ through: 'light', dimming: 1 }, { through: 'light' }),
      sound: () => set({ through: 'light', dimming: 1 }, { through: 'light', dimming: 0.99 }),
      says: /Level 1 and Level 2 of Factor 1 get the same lamps and hours/,
    },
    {
      what: 'hours said that are the plan’s own, against an hour less',
      flawed: () => set({ through: 'light', photoperiodHours: 16 }, { through: 'light' }),
      sound: () => set({ through: 'light', photoperiodHours: 15 }, { through: 'light' }),
      says: /get the same lamps and hours/,
    },
    {
      what: 'levels of which nothing is said, against one of which something is',
      flawed: () => set(),
      sound: () => set({ through: 'light', dimming: 0.5 }),
      says: /It is not said what the levels of Factor 1 set/,
    },
    {
      what: 'a shelf drawn at full output whose level is dim, against one drawn dim',
      flawed: () => dimByHand(1),
      sound: () => dimByHand(0.5),
      says: /The rack is drawn otherwise than Factor 1 says in 1 place: bay 2 \(Level 2: .* at 50 %, 16 h a day; drawn: .* at 100 %/,
    },
  ],
  'factors-confounded': [
    {
      what: 'lamps and species on the same shelves, against one shelf changed',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 4 }), [
          given(1, 'shelf', shelves('1122')),
          given(2, 'shelf', shelves('1122')),
        ]),
      sound: () =>
        planOf(rackOf({ ...trays, shelves: 4 }), [
          given(1, 'shelf', shelves('1122')),
          given(2, 'shelf', shelves('1222')),
        ]),
      says: /Factor 1 and Factor 2 go together/,
    },
    {
      what: 'species by tray that follow the shelves, against one tray changed',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 2 }), [
          given(1, 'tray', { t101: '1', t102: '1', t201: '2', t202: '2' }),
        ]),
      sound: () =>
        planOf(rackOf({ ...trays, shelves: 2 }), [
          given(1, 'tray', { t101: '1', t102: '2', t201: '2', t202: '2' }),
        ]),
      says: /Factor 1 goes together with the shelves: each of its 2 levels is found on one shelf only/,
    },
    {
      what: 'species by tray, one a shelf, on four shelves, against one tray changed',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 4 }), [
          given(1, 'tray', {
            ...{ t101: '1', t102: '1', t201: '2', t202: '2' },
            ...{ t301: '1', t302: '1', t401: '2', t402: '2' },
          }),
        ]),
      sound: () =>
        planOf(rackOf({ ...trays, shelves: 4 }), [
          given(1, 'tray', {
            ...{ t101: '1', t102: '2', t201: '2', t202: '2' },
            ...{ t301: '1', t302: '1', t401: '2', t402: '2' },
          }),
        ]),
      says: /what is replicated is the shelf, and there are 4 shelves, not 8 trays/,
    },
  ],
  'treatment-confounded-with-light': [
    {
      what: 'the brightest third of the pots, against every third',
      flawed: () => byLight(true),
      sound: () => byLight(false),
      says: /stand in different light: Level 1 \d+ and Level 2 \d+ µmol m⁻² s⁻¹ on average, \d+ % of the mean apart/,
    },
    {
      what: 'a draw beyond what its redraws keep to, against one within',
      flawed: () => drawnByLight(-0.1),
      sound: () => drawnByLight(0.1),
      says: /Level 1 \d+ and Level 2 \d+ .* 99 of 100 draws of this design stay within \d+/,
    },
  ],
  'unit-too-few-df': [
    {
      what: 'five trays for two levels, against six',
      flawed: () => planOf(rackOf({ ...trays, traysPerShelf: 5 }), [factorOf(1, 'tray', 2)]),
      sound: () => planOf(rackOf({ ...trays, traysPerShelf: 6 }), [factorOf(1, 'tray', 2)]),
      says: /^Only 5 trays carry Factor 1, at least 2 a level\. .* with 3 degrees of freedom where 4 are the least/,
    },
  ],
  'scheme-does-not-fit': [
    {
      what: 'a Latin square of three on four by four pots, against one of four',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 3)], { scheme: 'latin-square' }),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 4)], { scheme: 'latin-square' }),
      says: /Tray 1A has 4 × 4 pots; a Latin square of 3 treatments needs a multiple of 3/,
    },
    {
      what: 'a Latin square analysed by straight slopes, against with its rows and columns',
      flawed: () =>
        planOf(rackOf(trays), [factorOf(1, 'pot', 4)], {
          scheme: 'latin-square',
          primaryPosition: 'linear',
        }),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 4)], { scheme: 'latin-square' }),
      says: /The rest of rows and columns counts as chance, so real differences may go unseen/,
    },
  ],
  'block-too-small': [
    {
      what: 'blocks of four pots for five levels, against four',
      flawed: () =>
        planOf(rackOf(trays), [factorOf(1, 'pot', 5)], {
          scheme: 'complete-blocks',
          blocks: { by: 'tray-quarters' },
        }),
      sound: () =>
        planOf(rackOf(trays), [factorOf(1, 'pot', 4)], {
          scheme: 'complete-blocks',
          blocks: { by: 'tray-quarters' },
        }),
      says: /holds 4 pots for 5 treatments; 8 of 8 such groups are too small/,
    },
  ],
  'unequal-replication': [
    {
      what: 'sixteen pots a tray for three levels, against fifteen',
      flawed: () =>
        planOf(rackOf(trays), [factorOf(1, 'pot', 3)], {
          scheme: 'complete-blocks',
          blocks: { by: 'tray' },
        }),
      sound: () =>
        planOf(rackOf({ ...trays, rows: 3, columns: 5 }), [factorOf(1, 'pot', 3)], {
          scheme: 'complete-blocks',
          blocks: { by: 'tray' },
        }),
      says: /2 of 2 groups share 16 pots among 3 treatments, so some get one more than others/,
    },
    {
      what: 'four shelves of one species and two of the other, against three and two',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 6 }), [given(1, 'shelf', shelves('111122'))]),
      sound: () => planOf(rackOf({ ...trays, shelves: 5 }), [given(1, 'shelf', shelves('11122'))]),
      says: /unequal numbers of shelves: Level 1 4 and Level 2 2/,
    },
  ],
  'low-power': [
    {
      what: 'a difference one per cent under what is found, against one over',
      flawed: () => difference(0.99),
      sound: () => difference(1.01),
      says: /between levels of feed would be found with a probability of only 0\.\d\d; the plan wants 0\.80/,
    },
  ],
  'too-few-pots': [
    {
      what: 'thirty-two pots for seventeen levels, against sixteen',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 17)]),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 16)]),
      says: /32 pots for 17 treatments of Factor 1: some treatments are grown in one pot only/,
    },
    {
      what: 'a given level that stands nowhere, against on one shelf',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 3 }), [
          { ...given(1, 'shelf', shelves('122')), levels: factorOf(1, 'shelf', 3).levels },
        ]),
      sound: () => planOf(rackOf({ ...trays, shelves: 3 }), [given(1, 'shelf', shelves('123'))]),
      says: /No shelf has Level 3 of Factor 1: it is not grown at all/,
    },
  ],
  'edge-share-unequal': [
    {
      // Hypergeometric: 16 or more either way has p = 0.002, 15 or more 0.02. The two other measures
      // take their share of the 1 in 100.
      what: '16 and 6 of 18 pots at the edge, against 15 and 7',
      flawed: () => edges(16),
      sound: () => edges(15),
      says: /Level 1 89 % and Level 2 33 %\. 99 of 100 draws of this design stay within/,
    },
  ],
  'start-size-unbalanced': [
    {
      what: 'a level that started 0.73 standard deviations ahead, against 0.70, where redraws keep to 0.72',
      // Within levels the standard deviation is √(216 / 212) = 1.009.
      flawed: () => starts(0.74),
      sound: () => starts(0.71),
      says: /started unequal: .* 10\.7.* on average, 0\.73 standard deviations apart\. 99 of 100 draws of this design stay within 0\.72/,
    },
  ],
  'alpha-unusual': [
    {
      what: 'one false alarm in nine, against one in ten',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)], { alpha: 0.11 }),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)], { alpha: 0.1 }),
      says: /A risk of a false alarm of 11 % is accepted\..*5 % is usual/,
    },
    {
      what: 'less than one in a thousand, against one in a thousand',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)], { alpha: 0.0009 }),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)], { alpha: 0.001 }),
      says: /A risk of a false alarm of 0\.09 % is accepted/,
    },
  ],
  'many-swaps': [
    {
      what: 'four of 32 pots exchanged, against two',
      flawed: () => exchanged(2),
      sound: () => exchanged(1),
      says: /^4 of 32 pots were exchanged by hand after the draw/,
    },
  ],
  'layout-missing': [
    {
      what: 'nothing drawn, against drawn',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)]),
      sound: () => drawn(planOf(rackOf(trays), [factorOf(1, 'pot', 2)])),
      says: /No layout has been drawn yet/,
    },
  ],
  'layout-stale': [
    {
      what: 'a level more since the draw, against levels renamed',
      flawed: () => renamed(3),
      sound: () => renamed(2),
      says: /have changed since the layout was drawn/,
    },
  ],
  'planted-before-draw': [
    {
      what: 'planted the day before the draw, against the day of it',
      flawed: () => plantedOn(-1),
      sound: () => plantedOn(0),
      says: /The layout was drawn on .*, after planting on/,
    },
  ],
  'layout-altered': [
    {
      what: 'two pots exchanged without a word, against logged',
      flawed: () => altered(false),
      sound: () => altered(true),
      says: /not what its seed “check” and its logged exchanges give: 2 pots differ/,
    },
  ],
};

const rows = Object.entries(cases).flatMap(([kind, list]) =>
  list.map((one) => ({ kind: kind as NoticeKind, ...one })),
);

describe('check from the shell', () => {
  it.each(rows)('tells $kind: $what', async ({ kind, flawed, sound, says }) => {
    const { ok, notices } = await check(flawed());
    const found = notices.filter((notice) => notice.kind === kind);
    expect(found.map((notice) => notice.text)).toEqual([expect.stringMatching(says)]);
    for (const notice of found) {
      expect(notice.remedy).toMatch(/^[A-Z].*\.$/);
      expect(notice.about.length).toBeGreaterThan(0);
      if (notice.severity === 'stop') expect(ok).toBe(false);
    }
    const narrowly = await check(sound());
    expect(narrowly.notices.map((notice) => notice.kind)).not.toContain(kind);
  });

  it('says nothing of trial and layout about the sound example', async () => {
    const kinds = (await check(example('basil'))).notices.map((notice) => notice.kind);
    expect(kinds.filter((kind) => OURS.includes(kind))).toEqual([]);
    const before = (await check(undrawn('basil'))).notices.map((notice) => notice.kind);
    expect(before.filter((kind) => OURS.includes(kind))).toEqual(['layout-missing']);
  });
});
