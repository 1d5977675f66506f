import { describe, expect, it } from 'vitest';
import * as commands from '../../../renderer/document/commands';
import { emptyPlan, newFlood, newGrid } from '../../../renderer/document/new';
import { potsOfRack, rectInside, rectsOverlap } from '../../../renderer/engine/geometry';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';
import { label, refusal, run } from '../../builders/run';

const shelfRect = (shelf: { widthMm: number; depthMm: number }) => ({
  xMm: 0,
  yMm: 0,
  widthMm: shelf.widthMm,
  depthMm: shelf.depthMm,
});

describe('drawing a rack from nothing', () => {
  it('stacks shelves, fits trays and pots inside, hangs lamps evenly', () => {
    let plan = run(emptyPlan('New'), commands.addShelf, {});
    plan = run(plan, commands.addShelf, {});
    const [low, high] = plan.rack.shelves;
    if (!low || !high) throw new Error('two shelves were added');
    expect([low.number, high.number]).toEqual([1, 2]);
    expect([low.widthMm, low.depthMm, low.clearanceMm]).toEqual([1200, 600, 450]);
    expect(high.heightMm).toBeGreaterThanOrEqual(low.heightMm + low.clearanceMm);

    plan = run(plan, commands.addTray, { shelfId: low.id, tray: { widthMm: 550 } });
    plan = run(plan, commands.addTray, { shelfId: low.id });
    const trays = plan.rack.shelves[0]?.trays ?? [];
    const [left, right] = trays;
    if (!left || !right) throw new Error('two trays were added');
    expect([left.letter, right.letter]).toEqual(['A', 'B']);
    expect(trays.every((tray) => rectInside(tray, shelfRect(low)))).toBe(true);
    expect(rectsOverlap(left, right)).toBe(false);

    plan = run(plan, commands.addLampKind, {});
    const kindId = plan.rack.lampKinds[0]?.id ?? '';
    plan = run(plan, commands.addLamp, { shelfId: low.id, kindId, count: 3 });
    const lamps = plan.rack.shelves[0]?.lamps ?? [];
    expect(lamps.map((lamp) => lamp.yMm)).toEqual([100, 300, 500]);
    expect(plan.nextId).toBe(9);
  });
});

describe('pots fitted to their tray', () => {
  const grid = (plan: ReturnType<typeof samplePlan>) => plan.rack.shelves[0]?.trays[0]?.grid;
  const [tray] = samplePlan().rack.shelves[0]?.trays ?? [];
  if (!tray?.grid) throw new Error('the sample has pots');
  const asked = (patch: Partial<NonNullable<typeof tray.grid>>) =>
    run(samplePlan(), commands.setGrid, {
      trayId: tray.id,
      grid: { ...newGrid(tray), ...patch },
    });
  const fit = { trayIds: [tray.id] };

  it.each([
    ['square', 2, 3],
    ['square', 1, 1],
    ['staggered', 3, 2],
  ] as const)('%s, %i rows of %i stand evenly and inside', (pattern, rows, columns) => {
    const before = asked({ pattern, rows, columns, potDiameterMm: 50 });
    const plan = run(before, commands.fitPots, fit);
    expect(grid(plan)).toMatchObject({ pattern, rows, columns });
    const pots = potsOfRack(plan.rack).filter(({ id }) => id.startsWith(`${tray.id}:`));
    const xs = pots.map(({ xMm }) => xMm - tray.xMm);
    const ys = pots.map(({ yMm }) => yMm - tray.yMm);
    // As far from the left as from the right, from the front as from the back, to the tenth kept.
    expect(Math.min(...xs)).toBeCloseTo(tray.widthMm - Math.max(...xs), 0);
    expect(Math.min(...ys)).toBeCloseTo(tray.depthMm - Math.max(...ys), 0);
    expect(Math.min(...xs, ...ys)).toBeGreaterThanOrEqual(25);
  });

  it('takes the most that fit, and says where not one does', () => {
    const most = Math.floor(tray.widthMm / 50);
    const wide = run(
      asked({ columns: most + 1, rows: 1, potDiameterMm: 50 }),
      commands.fitPots,
      fit,
    );
    expect(grid(wide)).toMatchObject({ columns: most, rows: 1 });
    const held = run(asked({ columns: most, rows: 1, potDiameterMm: 50 }), commands.fitPots, fit);
    expect(grid(held)).toMatchObject({ columns: most });
    const huge = asked({ columns: 1, rows: 1, potDiameterMm: tray.widthMm + 1 });
    expect(refusal(huge, commands.fitPots, fit)).toContain('Not one pot of');
  });
});

describe('editing the rack', () => {
  it('duplicates a shelf with ids of its own', () => {
    const plan = run(samplePlan(), commands.duplicateShelf, { shelfId: 's1' });
    const [one, , three] = plan.rack.shelves;
    expect(three).toMatchObject({ id: 's10', number: 3 });
    expect(three?.trays[0]).toEqual({ ...one?.trays[0], id: 't11' });
    expect(three?.lamps[0]).toMatchObject({ id: 'l12', kindId: 'k1', group: 'shelf 3' });
    expect(plan.nextId).toBe(13);
  });

  it('moves a shelf down and stacks the rest on it', () => {
    const plan = run(samplePlan(), commands.reorderShelf, { shelfId: 's2', to: 0 });
    expect(plan.rack.shelves.map(({ id, number }) => [id, number])).toEqual([
      ['s2', 1],
      ['s1', 2],
    ]);
    expect(plan.rack.shelves.map(({ heightMm }) => heightMm)).toEqual(
      samplePlan().rack.shelves.map(({ heightMm }) => heightMm),
    );
  });

  it('moves several things at once to a tenth of a millimetre', () => {
    const items = ['tray:t1', 'lamp:l2'];
    const move = { items, dxMm: 10.06, dyMm: -5, dzMm: 7 };
    const plan = run(samplePlan(), commands.moveItems, move);
    const before = samplePlan().rack.shelves;
    const [one, two] = plan.rack.shelves;
    expect(one?.trays[0]?.xMm).toBe((before[0]?.trays[0]?.xMm ?? 0) + 10.1);
    expect(two?.lamps[0]?.yMm).toBe((before[1]?.lamps[0]?.yMm ?? 0) - 5);
    expect(two?.lamps[0]?.zMm).toBe((before[1]?.lamps[0]?.zMm ?? 0) + 7);
    expect(one?.lamps[0]).toEqual(before[0]?.lamps[0]);
    expect(label(samplePlan(), commands.moveItems, move)).toBe(
      'Move tray 1A and lamp 1 over shelf 2',
    );
  });

  it('gives a duplicated tray the next letter', () => {
    const plan = run(samplePlan(), commands.duplicateItems, {
      items: ['tray:t1', 'lamp:l1'],
      dxMm: 20,
      dyMm: 20,
    });
    expect(plan.rack.shelves[0]?.trays.map(({ id, letter }) => id + letter)).toEqual([
      't1A',
      't10B',
    ]);
    expect(plan.rack.shelves[0]?.lamps).toHaveLength(2);
  });

  it('sets copies down on the shelf that they are lifted to', () => {
    const before = samplePlan();
    const [low, high] = before.rack.shelves;
    if (!low || !high) throw new Error('the sample has two shelves');
    const up = high.heightMm - low.heightMm;
    const lifted = (dzMm: number) =>
      run(before, commands.duplicateItems, {
        items: ['tray:t1', 'lamp:l1'],
        dxMm: 10,
        dyMm: 0,
        dzMm,
      }).rack.shelves;

    const [stays, gets] = lifted(up);
    expect(stays?.trays.length).toBe(low.trays.length);
    const letters = high.trays.map((tray) => tray.letter);
    expect(letters).not.toContain(gets?.trays.at(-1)?.letter);
    expect(gets?.trays.at(-1)).toMatchObject({ xMm: (low.trays[0]?.xMm ?? 0) + 10 });
    // As high over its new shelf as over the old one, and in that shelf's group.
    expect(gets?.lamps.at(-1)).toMatchObject({ zMm: low.lamps[0]?.zMm, group: 'shelf 2' });

    // Within the bay a lamp hangs lower and a tray stays on its board.
    const [own] = lifted(-20);
    expect(own?.lamps.at(-1)?.zMm).toBe((low.lamps[0]?.zMm ?? 0) - 20);
    expect(own?.trays).toHaveLength(low.trays.length + 1);
    // Below the lowest board there is no shelf: the lowest takes them, the lamp on its surface.
    const [lowest] = lifted(-5000);
    expect(lowest?.lamps.at(-1)?.zMm).toBe(0);
  });

  it('refits the pots of a resized tray and drops holes that are gone', () => {
    let plan = run(samplePlan(), commands.toggleGuards, { potIds: ['t1:1:1', 't1:2:3'] });
    plan = run(plan, commands.resizeTray, {
      trayId: 't1',
      xMm: 0,
      yMm: 0,
      widthMm: 240,
      depthMm: 130,
      refitGrid: true,
    });
    const grid = plan.rack.shelves[0]?.trays[0]?.grid;
    // Pots of 100 mm, 120 mm apart: 220 mm take two, 240 mm no third; 130 mm take one row.
    expect(grid).toMatchObject({ rows: 1, columns: 2, guards: ['1:1'], empty: [] });
  });

  it('toggles guards and empty holes', () => {
    const guards = { potIds: ['t1:1:1', 't1:1:2'] };
    const once = run(samplePlan(), commands.toggleGuards, guards);
    expect(potsOfRack(once.rack).filter((pot) => pot.guard)).toHaveLength(2);
    expect(run(once, commands.toggleGuards, guards)).toEqual(samplePlan());
    const more = run(once, commands.toggleGuards, { potIds: ['t1:1:1', 't1:1:3'] });
    expect(more.rack.shelves[0]?.trays[0]?.grid?.guards).toEqual(['1:2', '1:1', '1:3']);
    const emptied = run(once, commands.toggleEmptyHoles, { potIds: ['t2:2:2'] });
    expect(potsOfRack(emptied.rack)).toHaveLength(11);
    expect(refusal(once, commands.toggleGuards, { potIds: ['t1:5:1'] })).toBe(
      'There is no hole 1A-E1.',
    );
  });

  it('takes along what spoke of a removed shelf', () => {
    let plan = samplePlan();
    plan = run(plan, commands.setFlood, { flood: newFlood('z20', plan.rack) });
    expect(plan.nextId).toBe(21);
    plan = run(plan, commands.addReadings, {
      readings: [
        {
          shelfId: 's2',
          xMm: 0,
          yMm: 0,
          zMm: 100,
          value: 200,
          unit: 'ppfd',
          luxPerPpfd: null,
          date: null,
          note: '',
        },
      ],
    });
    plan = run(plan, commands.editFactor, { factorId: 'f1', patch: { kind: 'fixed' } });
    const place = { factorId: 'f1', unitIds: ['s1', 's2'], levelId: 'v2' };
    plan = run(plan, commands.setGivenWhere, place);
    plan = run(plan, commands.removeShelves, { shelfIds: ['s2'] });
    expect(plan.flood?.zones[0]?.trayIds).toEqual(['t1']);
    expect(plan.light.readings).toEqual([]);
    expect(plan.trial?.factors[0]?.where).toEqual([{ unitId: 's1', levelId: 'v2' }]);
  });

  it('keeps a lamp kind that hangs somewhere', () => {
    const { removeLampKind } = commands;
    expect(refusal(samplePlan(), removeLampKind, { kindId: 'k1' })).toBe(
      'LED strip hangs over shelf 1; take its lamps down first.',
    );
    const bare = run(samplePlan(), commands.removeItems, { items: ['lamp:l1', 'lamp:l2'] });
    expect(run(bare, removeLampKind, { kindId: 'k1' }).rack.lampKinds).toEqual([]);
  });

  it('refuses impossible figures by their place', () => {
    const { editShelf, editTray } = commands;
    expect(refusal(samplePlan(), editShelf, { shelfId: 's1', patch: { widthMm: -3 } })).toBe(
      'Shelf 1, width (mm): found -3, expected a number above 0.',
    );
    expect(
      refusal(samplePlan(), editTray, { trayId: 't2', patch: { rimHeightMm: Number.NaN } }),
    ).toMatch(/^Tray 2A, rim height \(mm\): found a number that is not finite/);
    expect(refusal(samplePlan(), editShelf, { shelfId: 's9', patch: {} })).toBe(
      'The rack has no shelf with the id s9.',
    );
  });
});

describe('editing the trial', () => {
  it('drops an unplanted layout with the factor it was drawn for', () => {
    expect(run(drawnPlan(), commands.removeFactor, { factorId: 'f2' }).layout).toBeNull();
    const after = run(drawnPlan(), commands.removeLevel, { factorId: 'f2', levelId: 'v4' });
    expect(after.layout).toBeNull();
  });

  it('refuses names that are taken and a factor without levels', () => {
    const { addFactor, addLevel, removeLevel } = commands;
    const factor = { kind: 'randomised', unit: 'pot', levels: ['5', '6'] } as const;
    expect(refusal(samplePlan(), addFactor, { ...factor, name: ' LIGHT' })).toBe(
      'The trial has a factor LIGHT already.',
    );
    expect(refusal(samplePlan(), addLevel, { factorId: 'f1', name: 'High' })).toBe(
      'The factor light has a level High already.',
    );
    const one = run(samplePlan(), removeLevel, { factorId: 'f1', levelId: 'v1' });
    expect(refusal(one, removeLevel, { factorId: 'f1', levelId: 'v2' })).toBe(
      'low is the only level of light; remove the factor instead.',
    );
  });

  it('places only given factors by hand, each unit once', () => {
    const place = { factorId: 'f2', unitIds: ['t1:1:1', 't1:1:1'], levelId: 'v3' };
    expect(refusal(samplePlan(), commands.setGivenWhere, place)).toBe(
      'The levels of medium are assigned by the draw, not by hand.',
    );
    let plan = run(samplePlan(), commands.editFactor, { factorId: 'f2', patch: { kind: 'fixed' } });
    plan = run(plan, commands.setGivenWhere, place);
    expect(plan.trial?.factors[1]?.where).toEqual([{ unitId: 't1:1:1', levelId: 'v3' }]);
    plan = run(plan, commands.setGivenWhere, { ...place, levelId: null });
    expect(plan.trial?.factors[1]?.where).toEqual([]);
  });

  it('removes a measurement with values only when told so', () => {
    const { enterValues, removeMeasurement } = commands;
    const entry = { measurementId: 'm2', entries: [{ potId: 't1:1:1', value: 3 }] };
    expect(label(samplePlan(), enterValues, entry)).toBe(
      'Enter fresh weight at harvest of pot 1A-A1',
    );
    const plan = run(samplePlan(), enterValues, entry);
    expect(refusal(plan, removeMeasurement, { measurementId: 'm2' })).toBe(
      'fresh weight at harvest has values of 1 pot.',
    );
    const without = run(plan, removeMeasurement, { measurementId: 'm2', withValues: true });
    expect(without.records.values).toEqual({});
    expect(without.trial?.primaryOutcomeId).toBeNull();
  });

  it('marks planted only what stands', () => {
    const gone = run(drawnPlan(), commands.removeItems, { items: ['tray:t2'] });
    expect(refusal(gone, commands.markPlanted, { date: '2026-03-02' })).toMatch(
      /^The rack has no pot/,
    );
    const more = { name: 'pH', kind: 'randomised', unit: 'pot', levels: ['5', '6'] } as const;
    const widened = run(drawnPlan(), commands.addFactor, more);
    expect(refusal(widened, commands.markPlanted, { date: '2026-03-02' })).toBe(
      'The layout does not know the factor pH; draw it again first.',
    );
    expect(run(drawnPlan(), commands.markPlanted, { date: '2026-03-02' })).toEqual(
      drawnPlan('2026-03-02'),
    );
  });

  it('keeps one acceptance for a notice', () => {
    const notice = { kind: 'low-power', about: ['factor:f1', 'plan'], date: null };
    let plan = run(samplePlan(), commands.acceptNotice, { ...notice, reason: 'a pilot' });
    plan = run(plan, commands.acceptNotice, {
      ...notice,
      about: ['plan', 'factor:f1'],
      reason: ' second thought ',
    });
    expect(plan.acceptedNotices.map(({ reason }) => reason)).toEqual(['second thought']);
    expect(run(plan, commands.withdrawAcceptance, notice).acceptedNotices).toEqual([]);
    expect(refusal(plan, commands.acceptNotice, { ...notice, reason: ' ' })).toMatch(/reason/);
  });
});

describe('canopy height of a tray', () => {
  it('sets one end and leaves the other as the shelf has it; none goes back to the shelf', () => {
    const plan = samplePlan();
    const { setTrayCanopy } = commands;
    const own = run(plan, setTrayCanopy, { trayIds: ['t1'], canopy: { harvestMm: 260 } });
    const canopies = own.rack.shelves.flatMap(({ canopy, trays }) =>
      trays.map((tray) => ({ id: tray.id, own: tray.canopy, plantingMm: canopy.plantingMm })),
    );
    const first = canopies.find(({ id }) => id === 't1');
    expect(first?.own).toEqual({ plantingMm: first?.plantingMm, harvestMm: 260 });
    expect(canopies.filter(({ own: some }) => some !== undefined)).toHaveLength(1);
    expect(run(own, setTrayCanopy, { trayIds: ['t1'], canopy: null })).toEqual(plan);
    const words = refusal(plan, setTrayCanopy, { trayIds: ['t9'], canopy: null });
    expect(words).toContain('no tray with the id t9');
  });
});
