import { describe, expect, test } from 'vitest';
import { baysOf } from '../../../renderer/engine/geometry';
import { floodFigures } from '../../../renderer/engine/flood';
import { potLight } from '../../../renderer/engine/light';
import { rackAsTreated, type TreatedView } from '../../../renderer/engine/treated';
import type { Plan } from '../../../shared-types/plan';
import type { LevelSettings } from '../../../shared-types/trial/trial';
import { drawnWithWater, withFactor, withSettings } from './plans';

const treated = (plan: Plan, view: TreatedView = { as: 'treated' }) =>
  rackAsTreated(
    {
      ...plan,
      factors: plan.trial?.factors ?? [],
      assignments: plan.layout?.assignments ?? [],
    },
    view,
  );
const allAt = (factorId: string, levelId: string): TreatedView => ({
  as: 'level',
  factorId,
  levelId,
});

const light = (change: Partial<Extract<LevelSettings, { through: 'light' }>>): LevelSettings => ({
  through: 'light',
  ...change,
});

/** Both shelves' strips at full output; shelf 2 is drawn `low`. */
const dimmed = () => withSettings(drawnWithWater(), { v2: light({ dimming: 0.5 }) });

describe('light', () => {
  test('half the output gives half the light, and only where the level stands', () => {
    const plan = dimmed();
    const bare = potLight(plan.rack, plan.light);
    const now = potLight(treated(plan).rack, plan.light);
    for (const [id, { ppfdUmol }] of now.pots) {
      const was = bare.pots.get(id)?.ppfdUmol ?? NaN;
      expect(was).toBeGreaterThan(1);
      expect(ppfdUmol / was).toBeCloseTo(id.startsWith('t2') ? 0.5 : 1, 12);
    }
  });

  test('what no level changes stays the same object', () => {
    const plan = dimmed();
    const { rack, flood } = treated(plan);
    expect(rack.shelves[0]).toBe(plan.rack.shelves[0]);
    expect(flood).toBe(plan.flood);
    expect(treated(plan, { as: 'bare' }).rack).toBe(plan.rack);
    // A level that says what is there already.
    const same = withSettings(drawnWithWater(), { v2: light({ dimming: 1, lampKindId: 'k1' }) });
    expect(treated(same).rack).toBe(same.rack);
  });

  test('hours go to the bays of the level, the other bays keep theirs', () => {
    const plan = withSettings(drawnWithWater(), { v1: light({ photoperiodHours: 12 }) });
    const { rack } = treated(plan);
    const hours = rack.shelves.map((shelf) => baysOf(shelf).map((bay) => bay.photoperiodHours));
    expect(hours).toEqual([[12], [null]]);
    const ids = (r: Plan['rack']) => r.shelves.map((shelf) => baysOf(shelf).map(({ id }) => id));
    expect(ids(rack)).toEqual(ids(plan.rack));
  });

  test('two bays of one shelf carry two levels, each lamp with the bay it hangs in', () => {
    const plan = withSettings(drawnWithWater(), {
      v1: light({ dimming: 0.8 }),
      v2: light({ dimming: 0.3, photoperiodHours: 10 }),
    });
    const [shelf] = plan.rack.shelves;
    const [lamp] = shelf?.lamps ?? [];
    const [tray] = shelf?.trays ?? [];
    if (!shelf || !lamp || !tray?.grid || !plan.layout) throw new Error('the sample has changed');
    // Between the second and the third of three columns.
    const atMm = tray.xMm + tray.grid.firstXMm + 1.5 * tray.grid.pitchXMm;
    const board = {
      id: 'q1',
      direction: 'across' as const,
      atMm,
      thicknessMm: 10,
      reflectance: 0.9,
      downToMm: 100,
    };
    const lamps = [atMm - 50, atMm + 50].map((xMm, i) => ({ ...lamp, id: `l${i + 1}`, xMm }));
    const parted = { ...shelf, boards: [board], bays: [{ id: 'b1' }, { id: 'b2' }], lamps };
    const assignments = plan.layout.assignments
      .filter(({ potId }) => potId.startsWith('t1'))
      .map((a) => ({ ...a, levels: { ...a.levels, f1: a.potId.endsWith(':3') ? 'v2' : 'v1' } }));
    const both: Plan = {
      ...withFactor(plan, 'f1', { unit: 'bay' }),
      rack: { ...plan.rack, shelves: [parted] },
      layout: { ...plan.layout, assignments },
    };
    const [one] = treated(both).rack.shelves;
    if (!one) throw new Error('the sample has changed');
    expect(one.lamps.map(({ dimming }) => dimming)).toEqual([0.8, 0.3]);
    expect(baysOf(one).map((bay) => bay.photoperiodHours)).toEqual([null, 10]);
  });

  test('levels mixed under one set of lamps leave it as it is', () => {
    const plan = dimmed();
    const { layout } = plan;
    if (!layout) throw new Error('the sample has changed');
    const assignments = layout.assignments.map((a, i) =>
      i === layout.assignments.length - 1 ? { ...a, levels: { ...a.levels, f1: 'v1' } } : a,
    );
    const mixed = { ...plan, layout: { ...layout, assignments } };
    expect(treated(mixed).rack).toBe(mixed.rack);
  });

  test('before the draw every unit can be seen at one level, and nothing is treated', () => {
    const plan = { ...dimmed(), layout: null };
    expect(treated(plan).rack).toBe(plan.rack);
    const all = treated(plan, allAt('f1', 'v2')).rack;
    expect(all.shelves.flatMap((s) => s.lamps.map((l) => l.dimming))).toEqual([0.5, 0.5]);
    expect(treated(plan, allAt('f1', 'v1')).rack).toBe(plan.rack);
  });

  test('levels that were placed by hand are treated where they were placed', () => {
    const where = [{ unitId: 's1', levelId: 'v2' }];
    const plan = { ...withFactor(dimmed(), 'f1', { kind: 'fixed', where }), layout: null };
    const dims = treated(plan).rack.shelves.map((s) => s.lamps.map((l) => l.dimming));
    expect(dims).toEqual([[0.5], [1]]);
  });

  test('a lamp of another kind hangs in the same place, outside the readings’ groups', () => {
    const plan = withSettings(drawnWithWater(), { v2: light({ lampKindId: 'k2' }) });
    const [kind] = plan.rack.lampKinds;
    if (!kind) throw new Error('the sample has changed');
    const rack = { ...plan.rack, lampKinds: [kind, { ...kind, id: 'k2', name: 'other' }] };
    const was = rack.shelves[1]?.lamps[0];
    const is = treated({ ...plan, rack }).rack.shelves[1]?.lamps[0];
    expect(is).toEqual({ ...was, kindId: 'k2', group: `${was?.group ?? ''} k2`.trim() });
  });

  test('lamps of its own are spread evenly over the bay, at their height', () => {
    const plan = withSettings(drawnWithWater(), {
      v1: light({ hanging: { count: 2, heightMm: 350 }, dimming: 0.7 }),
    });
    const [shelf] = treated(plan).rack.shelves;
    if (!shelf) throw new Error('the sample has changed');
    expect(
      shelf.lamps.map(({ xMm, yMm, zMm, dimming, kindId }) => [xMm, yMm, zMm, dimming, kindId]),
    ).toEqual([
      [shelf.widthMm / 2, shelf.depthMm / 4, 350, 0.7, 'k1'],
      [shelf.widthMm / 2, (3 * shelf.depthMm) / 4, 350, 0.7, 'k1'],
    ]);
  });
});

describe('water', () => {
  test('depth and schedule go to the zone of the level', () => {
    const plan = withSettings(withFactor(drawnWithWater(), 'f1', { unit: 'tray' }), {
      v1: { through: 'water', floodDepthMm: 30, everyMinutes: 120 },
      v2: { through: 'water', solution: 'strong', ecMsCm: 2.1 },
    });
    const { flood } = treated(plan);
    const [bareA, bareB] = plan.flood?.zones ?? [];
    expect(flood?.zones[0]).toEqual({
      ...bareA,
      floodDepthMm: 30,
      schedule: bareA?.schedule.map((window) => ({ ...window, everyMinutes: 120 })),
    });
    expect(flood?.zones[1]).toBe(bareB);
  });
});

describe('medium', () => {
  const settings: Record<string, LevelSettings> = {
    v3: { through: 'medium', mediumId: 'n1' },
    v4: { through: 'medium', mediumId: 'n2' },
  };
  const figuresAt = (plan: Plan, view: TreatedView) => {
    const { rack, flood } = treated(plan, view);
    if (!flood) throw new Error('the sample has changed');
    return floodFigures(rack, flood);
  };

  test('porosity changes the water a tray takes by the pots’ flooded volume', () => {
    const plan = withSettings(drawnWithWater(), settings);
    const bark = figuresAt(plan, allAt('f2', 'v3')).trays.get('t1');
    const clay = figuresAt(plan, allAt('f2', 'v4')).trays.get('t1');
    const mixed = figuresAt(plan, { as: 'treated' }).trays.get('t1');
    const grid = plan.rack.shelves[0]?.trays[0]?.grid;
    const depth = plan.flood?.zones[0]?.floodDepthMm ?? 0;
    if (!bark || !clay || !mixed || !grid) throw new Error('the sample has changed');
    // Six cylinders of potDiameterMm under depth mm of water, 0.9 against 0.5 of which takes it up.
    const under = Math.min(depth, grid.potHeightMm);
    const litres = (6 * (Math.PI / 4) * grid.potDiameterMm ** 2 * under * (0.9 - 0.5)) / 1e6;
    expect(litres).toBeGreaterThan(0.1);
    expect(clay.firstL - bark.firstL).toBeCloseTo(litres, 9);
    // Three pots of each medium.
    expect(mixed.firstL - bark.firstL).toBeCloseTo(litres / 2, 9);
  });

  test('what the media weigh follows pot by pot', () => {
    const plan = withSettings(drawnWithWater(), settings);
    const dry = (view: TreatedView) => figuresAt(plan, view).loads[0]?.casesKg.dry ?? 0;
    const grid = plan.rack.shelves[0]?.trays[0]?.grid;
    if (!grid) throw new Error('the sample has changed');
    const potL = ((Math.PI / 4) * grid.potDiameterMm ** 2 * grid.potHeightMm) / 1e6;
    // 400 against 200 kg/m³: 0.2 kg more a litre, in all six pots and in three of them.
    expect(dry(allAt('f2', 'v4')) - dry(allAt('f2', 'v3'))).toBeCloseTo(6 * potL * 0.2, 9);
    expect(dry({ as: 'treated' }) - dry(allAt('f2', 'v3'))).toBeCloseTo(3 * potL * 0.2, 9);
  });

  test('another pot size displaces and weighs as its own cylinder', () => {
    const plan = withSettings(drawnWithWater(), {
      v3: { through: 'hand', potDiameterMm: 60, potHeightMm: 50 },
    });
    expect(treated(plan).flood?.potted).toBeUndefined();
    const tray = figuresAt(plan, allAt('f2', 'v3')).trays.get('t1');
    expect(tray?.vessel.pots.map((pot) => [pot.diameterMm, pot.heightMm])).toEqual(
      Array.from({ length: 6 }, () => [60, 50]),
    );
  });

  test('a guard pot gets the medium of its unit where the whole unit has one', () => {
    const on = (unit: 'tray' | 'pot') => {
      const plan = withSettings(withFactor(drawnWithWater(), 'f2', { unit }), settings);
      if (!plan.layout) throw new Error('the sample has changed');
      const assignments = plan.layout.assignments
        .filter(({ potId }) => potId !== 't1:1:1')
        .map((a) => ({ ...a, levels: { ...a.levels, f2: 'v4' } }));
      return treated({ ...plan, layout: { ...plan.layout, assignments } }).flood?.potted;
    };
    expect(on('tray')?.get('t1:1:1')).toEqual({ mediumId: 'n2' });
    expect(on('pot')?.get('t1:1:1')).toBeUndefined();
  });
});
