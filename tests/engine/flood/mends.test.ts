import { describe, expect, it } from 'vitest';
import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { Plan } from '../../../shared-types/plan';
import { floodOf, floodRemediesOf, staggerRemedyOf, zoneSummary } from '../../../renderer/derive';
import { applyCommand } from '../../../renderer/document/apply';
import { floodNotices } from '../../../renderer/engine/flood';
import { speechIn } from '../../../renderer/words';
import { aFlood, aPlan, aTray, aZone } from './plans';

const say = speechIn('metric');
const every = (everyMinutes: number, onMinutes: number) => [
  { startHour: 0, endHour: 24, everyMinutes, onMinutes },
];
/** A bare tray of 0.72 m²: 28.8 L to 40 mm; a pump of 10 L/min fills it in 172.8 s. */
const planOf = (zone: Partial<FloodZone> = {}, flood: Partial<FloodPlan> = {}, tray = {}): Plan =>
  aPlan(aTray({ grid: null, ...tray }), aFlood(flood, zone));

const told = (plan: Plan) => {
  const figures = floodOf(plan);
  if (!plan.flood || !figures) throw new Error('the plan floods a zone');
  return zoneSummary(plan.flood, figures.zones, say);
};
const remedies = (plan: Plan) => floodRemediesOf(plan, 'z30');

/** After the first button that mends all, nothing of the flooding is wrong. */
function mended(plan: Plan): Plan {
  const [first] = remedies(plan);
  if (!first?.whole) throw new Error('the first button mends all');
  const done = applyCommand(plan, first.command, null);
  if (!done.ok) throw new Error(done.reason);
  expect(told(done.plan).map(({ level }) => level)).toEqual(['good']);
  expect(floodNotices(done.plan).filter(({ severity }) => severity !== 'note')).toEqual([]);
  expect(remedies(done.plan)).toEqual([]);
  return done.plan;
}

describe('a button that mends the flooding', () => {
  it.each<[string, Plan, string]>([
    // 172.8 s with a tenth of the run to spare are 3.2 min: four on the timer.
    ['a pump that runs too short', planOf({ schedule: every(240, 1) }), 'Run 4 min'],
    // At its highest 48.15 mm stand: 34.7 L, and 1.3 L in the pipe: with a fifth more 43.1 L, and a
    // day's evaporation.
    ['a small reservoir', planOf({ reservoirL: 37 }), 'Reservoir 44 L'],
    [
      'both at once',
      planOf({ schedule: every(240, 1), reservoirL: 30 }),
      'Run 4 min and reservoir 43 L',
    ],
    [
      'a valve that stays shut too long',
      planOf({
        drain: { kind: 'valve', boreMm: 25 },
        schedule: every(240, 10),
        residualMm: 0,
      }),
      'Run 4 min',
    ],
    ['leaves that get wet', planOf({}, { leafLineMm: 45 }), 'Flood depth 36 mm'],
    ['a flood too low', planOf({ floodDepthMm: 10 }), 'Flood depth 16 mm'],
  ])('is offered for %s', (_name, plan, label) => {
    expect(told(plan).some(({ level }) => level === 'bad')).toBe(true);
    expect(remedies(plan)[0]?.label).toBe(label);
    mended(plan);
  });

  it('is none where nothing is wrong, or only another pump helps', () => {
    expect(remedies(planOf())).toEqual([]);
    const weak = { name: 'pump', curve: [{ headM: 0.3, flowLMin: 10 }], powerW: 20 };
    expect(told(planOf({ pump: weak })).some(({ level }) => level === 'bad')).toBe(true);
    expect(remedies(planOf({ pump: weak }))).toEqual([]);
  });

  it('is offered for an overflow too narrow: a shorter run, or the next pipe that is wide enough', () => {
    const plan = planOf({
      drain: { kind: 'standpipe', overflowBoreMm: 12, returnBoreMm: 20, returnThrough: 'pump' },
    });
    // As holes, (q / (0.61 a √2g))²: 10 L/min stand 15.8 mm over a bore of 25 mm, the rim is 20 mm over it.
    expect(remedies(plan).map(({ label }) => label)).toEqual(['Run 4 min', 'Overflow 25 mm wide']);
    mended(plan);
  });

  it('takes the least that will do', () => {
    const zone = mended(planOf({}, { leafLineMm: 45 })).flood?.zones[0];
    const higher = planOf({ floodDepthMm: (zone?.floodDepthMm ?? 0) + 1 }, { leafLineMm: 45 });
    expect(told(higher).some(({ level }) => level === 'bad')).toBe(true);
  });
});

describe('equal tubs with a reservoir each', () => {
  const plan = ((): Plan => {
    const tray = aTray({ grid: null });
    const one = aPlan(tray, aFlood({}, { schedule: every(240, 1) }));
    const [shelf] = one.rack.shelves;
    if (!shelf || !one.flood) throw new Error('the plan has a shelf');
    const second = { ...shelf, id: 's20', number: 2, heightMm: 1000 };
    const trays = [{ ...tray, id: 't21' }];
    const other = aZone({
      id: 'z31',
      trayIds: ['t21'],
      schedule: [{ startHour: 1, endHour: 23, everyMinutes: 240, onMinutes: 1 }],
    });
    return {
      ...one,
      nextId: 60,
      rack: { ...one.rack, shelves: [shelf, { ...second, trays }] },
      flood: { ...one.flood, zones: [...one.flood.zones, other] },
    };
  })();

  it('have one verdict and one button, which leaves to each its hours', () => {
    expect(told(plan).map(({ text }) => text)).toEqual([
      'Both trays: needs 2.9 min, gets 60 s: reaches 14 of 40 mm in the 60 s the pump runs.',
    ]);
    const after = mended(plan);
    expect(after.flood?.zones.map(({ schedule }) => schedule[0])).toMatchObject([
      { startHour: 0, onMinutes: 4 },
      { startHour: 1, onMinutes: 4 },
    ]);
    expect(told(after).map(({ text }) => text)).toEqual([
      'Both trays flood to 48 mm in 2.9 min and drain in 4.9 min.',
    ]);
  });
});

describe('one sentence for a zone', () => {
  it('says how all is well', () => {
    // From 48.15 to 2 mm through 20 mm bore: 2 A (√h₁ − √h₂) / (0.61 a √2g) = 296 s.
    expect(told(planOf()).map(({ text }) => text)).toEqual([
      'Tray 1A floods to 48 mm in 2.9 min and drains in 4.9 min.',
    ]);
  });

  it('says how far the water comes in the time that the pump runs', () => {
    // 10 L/min for 1 min on 0.72 m² are 13.9 mm.
    expect(told(planOf({ schedule: every(240, 1) })).map(({ text }) => text)).toEqual([
      'Tray 1A: needs 2.9 min, gets 60 s: reaches 14 of 40 mm in the 60 s the pump runs.',
    ]);
  });
});

describe('zones that flood together', () => {
  const two = (on: number, apart = 240): Plan => {
    const plan = planOf({ schedule: every(apart, on) });
    if (!plan.flood) throw new Error('the plan floods');
    const other = aZone({ id: 'z31', name: 'zone 2', trayIds: [], schedule: every(apart, on) });
    return { ...plan, nextId: 60, flood: { ...plan.flood, zones: [...plan.flood.zones, other] } };
  };

  it('are staggered by a button, so that no two pumps run at once', () => {
    const plan = two(15);
    expect(floodOf(plan)?.overlaps).toHaveLength(1);
    const remedy = staggerRemedyOf(plan);
    const done = remedy && applyCommand(plan, remedy.command, null);
    if (!done?.ok) throw new Error('the zones are staggered');
    expect(floodOf(done.plan)?.overlaps).toEqual([]);
    expect(done.plan.flood?.zones.map(({ schedule }) => schedule[0]?.startHour)).toEqual([
      0,
      16 / 60,
    ]);
    expect(staggerRemedyOf(done.plan)).toBeNull();
  });

  it('stay together where the pause is too short for both', () => {
    expect(staggerRemedyOf(two(15, 30))).toBeNull();
    expect(staggerRemedyOf(two(15, 32))).not.toBeNull();
  });
});
