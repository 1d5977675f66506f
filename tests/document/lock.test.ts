import { describe, expect, it } from 'vitest';
import { applyCommand } from '../../renderer/document/apply';
import { bind, type BoundCommand } from '../../renderer/document/compose';
import * as commands from '../../renderer/document/commands';
import { drawnPlan } from '../builders/samplePlan';
import type { Plan } from '../../shared-types/plan';
import type { Facing, Side } from '../../shared-types/rack';
import { drawnWithWater } from '../engine/treated/plans';
import { refusal, run } from '../builders/run';

const planted = drawnPlan('2026-03-02');

describe('the lock on a planted layout', () => {
  it('refuses moving, removing and turning planted pots, naming one', () => {
    const { moveItems, removeItems, removeShelves, setGrid, toggleEmptyHoles } = commands;
    const { toggleGuards, setGuardRing, editShelf, editTray, resizeTray } = commands;
    expect(refusal(planted, moveItems, { items: ['tray:t1'], dxMm: 1, dyMm: 0 })).toBe(
      'Pot 1A-A1 is planted since 2026-03-02 and would move; unlock the layout first.',
    );
    expect(refusal(planted, removeItems, { items: ['tray:t2'] })).toBe(
      'Pot 2A-A1 is planted since 2026-03-02 and would vanish; unlock the layout first.',
    );
    expect(refusal(planted, removeShelves, { shelfIds: ['s2'] })).toMatch(/^Pot 2A-A1 .* vanish/);
    expect(refusal(planted, setGrid, { trayId: 't1', grid: null })).toMatch(/would vanish/);
    expect(refusal(planted, toggleEmptyHoles, { potIds: ['t1:2:2'] })).toMatch(
      /^Pot 1A-B2 .* vanish/,
    );
    expect(refusal(planted, toggleGuards, { potIds: ['t1:2:2'] })).toMatch(
      /^Pot 1A-B2 .* become a guard pot/,
    );
    expect(refusal(planted, setGuardRing, { trayIds: ['t1'], on: true })).toMatch(/guard pot/);
    expect(refusal(planted, editShelf, { shelfId: 's1', patch: { number: 7 } })).toMatch(
      /^Pot 1A-A1 .* become 7A-A1, against its printed label/,
    );
    expect(refusal(planted, editTray, { trayId: 't1', patch: { letter: 'B' } })).toMatch(/1B-A1/);
    const outline = { trayId: 't1', xMm: 0, yMm: 0, widthMm: 900, depthMm: 500 };
    expect(refusal(planted, resizeTray, { ...outline, refitGrid: true })).toMatch(/would move/);
  });

  it('refuses another design or another draw', () => {
    const { addFactor, editFactor, removeFactor, removeLevel, moveLevel } = commands;
    const { setBlocks, setScheme, setConstraint, dropTrial, dropLayout, keepLayout } = commands;
    const locked = /^Pot 1A-A1 and the others are planted/;
    expect(
      refusal(planted, addFactor, { name: 'pH', kind: 'randomised', unit: 'pot', levels: ['5'] }),
    ).not.toBe('done');
    expect(refusal(planted, editFactor, { factorId: 'f2', patch: { unit: 'tray' } })).toMatch(
      locked,
    );
    expect(refusal(planted, removeFactor, { factorId: 'f2' })).toMatch(/Pot|pot/);
    expect(refusal(planted, removeLevel, { factorId: 'f2', levelId: 'v3' })).toMatch(/unlock/);
    expect(refusal(planted, moveLevel, { factorId: 'f2', levelId: 'v3', to: 1 })).toMatch(locked);
    expect(refusal(planted, setBlocks, { blocks: { by: 'shelf' } })).toMatch(locked);
    expect(refusal(planted, setScheme, { scheme: 'split-plot' })).toMatch(locked);
    expect(refusal(planted, setConstraint, { patch: { acceptanceShare: 0.5 } })).toMatch(locked);
    expect(refusal(planted, dropTrial, {})).toMatch(/unlock/);
    expect(refusal(planted, dropLayout, {})).toMatch(/pot 1A-A1 .* unlock/);
    const layout = drawnPlan().layout;
    if (!layout) throw new Error('the sample is drawn');
    expect(refusal(planted, keepLayout, { layout })).toMatch(/planted since 2026-03-02/);
  });

  it('keeps how the question is answered once the harvest has begun', () => {
    const { editTrial, enterValues, unlockLayout } = commands;
    const primaryId = planted.trial?.primaryOutcomeId ?? '';
    const patches = [
      { primaryPosition: 'linear' as const },
      { primaryIndex: 'gain' as const },
      { startCovariate: !planted.trial?.startCovariate },
      { alpha: 0.1 },
      { primaryOutcomeId: null },
    ];
    for (const patch of patches) expect(refusal(planted, editTrial, { patch })).toBe('done');
    const begun = run(planted, enterValues, {
      measurementId: primaryId,
      entries: [{ potId: 't1:1:1', value: 12 }],
    });
    for (const patch of patches) {
      expect(refusal(begun, editTrial, { patch })).toMatch(/^The harvest has begun, so .* unlock/);
    }
    expect(refusal(begun, editTrial, { patch: { question: 'Which?' } })).toBe('done');
    const unlocked = run(begun, unlockLayout, { date: '2026-05-01', reason: 'wrong covariate' });
    expect(refusal(unlocked, editTrial, { patch: { alpha: 0.1 } })).toBe('done');
  });

  it('allows what leaves the pots alone', () => {
    const { renameLevel, editFactor, addMeasurement, addTray, duplicateShelf } = commands;
    let plan = run(planted, renameLevel, { factorId: 'f2', levelId: 'v3', name: 'pine bark' });
    plan = run(plan, editFactor, { factorId: 'f2', patch: { name: 'substrate' } });
    plan = run(plan, addMeasurement, { name: 'leaves', timepoint: 'interim' });
    plan = run(plan, addTray, { shelfId: 's1' });
    plan = run(plan, duplicateShelf, { shelfId: 's1' });
    expect(plan.layout).toBe(planted.layout);
  });

  it('is lifted knowingly, with the reason in the log', () => {
    const { unlockLayout, moveItems } = commands;
    expect(refusal(planted, unlockLayout, { date: '2026-03-09', reason: ' ' })).toMatch(/reason/);
    const unlocked = run(planted, unlockLayout, { date: '2026-03-09', reason: 'rack was moved' });
    expect(unlocked.layout).toEqual(drawnPlan().layout);
    expect(unlocked.records.incidents).toEqual([
      {
        id: 'i10',
        date: '2026-03-09',
        kept: true,
        text: 'Layout unlocked (planted since 2026-03-02): rack was moved',
        about: [],
      },
    ]);
    expect(refusal(unlocked, moveItems, { items: ['tray:t1'], dxMm: 1, dyMm: 0 })).toBe('done');
  });

  it('lets pots be exchanged, with a log', () => {
    const swap = { a: 't1:1:1', b: 't2:1:2', date: '2026-03-05', reason: 'mixed up' };
    const recorded = {
      ...planted,
      records: { ...planted.records, values: { m1: { 't1:1:1': 4, 't1:1:2': 9 } } },
    };
    const after = run(recorded, commands.swapPots, { ...swap, recordsMove: true });
    const placed = (id: string) => after.layout?.assignments.find((a) => a.potId === id);
    // The sample alternates medium: v3 stands at t1:1:1, v4 at t2:1:2; light stays with the shelf.
    expect(placed('t1:1:1')).toEqual({
      potId: 't1:1:1',
      block: 'tray 1A',
      levels: { f1: 'v1', f2: 'v4' },
      plant: 'P8',
    });
    expect(placed('t2:1:2')).toEqual({
      potId: 't2:1:2',
      block: 'tray 2A',
      levels: { f1: 'v2', f2: 'v3' },
      plant: 'P1',
    });
    expect(after.layout?.swaps).toEqual([swap]);
    expect(after.records.values).toEqual({ m1: { 't2:1:2': 4, 't1:1:2': 9 } });
    const back = run(after, commands.swapPots, { ...swap, recordsMove: true });
    expect(back.layout?.assignments).toEqual(planted.layout?.assignments);
    expect(back.records).toEqual(recorded.records);
    const stays = run(recorded, commands.swapPots, { ...swap, recordsMove: false });
    expect(stays.records).toBe(recorded.records);
  });

  it('lets a given property of the plant move with it', () => {
    const { editFactor, setGivenWhere, swapPots } = commands;
    let plan = run(drawnPlan(), editFactor, { factorId: 'f2', patch: { kind: 'fixed' } });
    plan = run(plan, setGivenWhere, { factorId: 'f2', unitIds: ['t1:1:1'], levelId: 'v3' });
    plan = run(plan, setGivenWhere, { factorId: 'f2', unitIds: ['t1:1:2'], levelId: 'v4' });
    plan = run(plan, commands.markPlanted, { date: '2026-03-02' });
    const swap = { a: 't1:1:1', b: 't1:1:2', date: '2026-03-05', reason: 'mixed up' };
    plan = run(plan, swapPots, { ...swap, recordsMove: false });
    const where = plan.trial?.factors.find((factor) => factor.id === 'f2')?.where;
    expect(Object.fromEntries(where?.map((w) => [w.unitId, w.levelId]) ?? [])).toEqual({
      't1:1:1': 'v4',
      't1:1:2': 'v3',
    });
  });

  it('refuses any command that changes a planted pot without logging it, whoever wrote it', () => {
    const layout = planted.layout;
    if (!layout) throw new Error('the sample is drawn');
    const sly = {
      name: 'sly',
      label: () => 'Sly',
      run: () => ({
        ...planted,
        layout: {
          ...layout,
          assignments: layout.assignments.map((a, i) => (i === 3 ? { ...a, plant: 'X' } : a)),
        },
      }),
    };
    expect(refusal(planted, sly, {})).toMatch(/^Pot 1A-B1 is planted and would change/);
  });
});

describe('pots that hold records', () => {
  it('may not vanish before their records are cleared', () => {
    const plan = run(drawnPlan(), commands.enterValues, {
      measurementId: 'm1',
      entries: [{ potId: 't2:2:3', value: 4 }],
    });
    expect(refusal(plan, commands.removeItems, { items: ['tray:t2'] })).toBe(
      'Pot 2A-B3 holds records and would vanish; clear its records first.',
    );
    // Where the pot is planted as well, unlocking would not help: it is told the same.
    const grown = run(plan, commands.markPlanted, { date: '2026-03-02' });
    expect(refusal(grown, commands.removeItems, { items: ['tray:t2'] })).toMatch(
      /^Pot 2A-B3 holds records/,
    );
    const cleared = run(plan, commands.enterValues, {
      measurementId: 'm1',
      entries: [{ potId: 't2:2:3', value: null }],
    });
    expect(cleared.records.values).toEqual({});
    expect(refusal(cleared, commands.removeItems, { items: ['tray:t2'] })).toBe('done');
  });
});

describe('what planted plants grow under', () => {
  const wet: Plan = run({ ...drawnWithWater(), nextId: 30 }, commands.editFactor, {
    factorId: 'f1',
    patch: { appliedThrough: 'light' },
  });
  const grown = run(wet, commands.markPlanted, { date: '2026-03-02' });
  const raise = bind(commands.moveItems, { items: ['lamp:l2'], dxMm: 0, dyMm: 0, dzMm: 20 });
  const dim = bind(commands.setLevelSettings, {
    factorId: 'f1',
    levelId: 'v2',
    settings: { through: 'light', dimming: 0.5 },
  });
  const zone = grown.flood?.zones[0];
  if (!zone || !grown.flood) throw new Error('the sample has changed');
  const media = grown.flood.media.map((m) => (m.id === 'n1' ? { ...m, trayIds: ['t1'] } : m));
  const edits: [string, BoundCommand, string][] = [
    ['a lamp that is hung higher', raise, 'what hangs and stands over shelf 2 stays'],
    ['what a level sets', dim, 'what the levels of light set stays'],
    [
      'a timer',
      bind(commands.setBayHours, { shelfId: 's1', bayId: 'b1', hours: 12 }),
      'what hangs and stands over shelf 1 stays',
    ],
    [
      'what a side faces',
      bind(commands.setFacing, { shelfId: 's1', side: 'left', facing: { kind: 'dark' } }),
      'what hangs and stands over shelf 1 stays',
    ],
    [
      'the hours of all lamps',
      bind(commands.editLight, { patch: { photoperiodHours: 14 } }),
      'the hours of light stays',
    ],
    [
      'a zone',
      bind(commands.editZone, { zoneId: 'z1', patch: { floodDepthMm: 30 } }),
      'the flooding of A stays',
    ],
    ['a medium', bind(commands.editFlood, { patch: { media } }), 'the medium of tray 1A stays'],
  ];

  it.each(edits)('stays once planted: %s', (_, edit, says) => {
    const outcome = applyCommand(grown, edit, null);
    expect(outcome).toMatchObject({ ok: false, correctable: true });
    expect(outcome.ok ? '' : outcome.reason).toContain(says);
    expect(refusal(wet, edit, null)).toBe('done');
  });

  it.each(edits)('is corrected with a day and a reason in the log: %s', (_, edit) => {
    const { correctPlanted } = commands;
    const asked = { edit, date: '2026-03-20', reason: ' plants touch ' };
    expect(refusal(grown, correctPlanted, { ...asked, reason: ' ' })).toContain('write one');
    const after = run(grown, correctPlanted, asked);
    const entry = after.records.incidents.at(-1);
    expect(entry).toMatchObject({ date: '2026-03-20', kept: true });
    expect(entry?.text).toMatch(/ after planting: plants touch$/);
    expect({ ...after, records: grown.records, nextId: 0 }).toEqual({
      ...edit.run(grown, null),
      nextId: 0,
    });
  });

  it('keeps what its sides face, and lets through a figure of it that is known better', () => {
    const { addShelf, editLamps, addLamp, setFacing } = commands;
    const face = (plan: Plan, side: Side, facing: Facing) =>
      refusal(plan, setFacing, { shelfId: 's1', side, facing });
    let plan = run(wet, addShelf, {});
    const spare = plan.rack.shelves.at(-1)?.id ?? '';
    plan = run(plan, addLamp, { shelfId: spare, kindId: 'k1', count: 1 });
    const set = (side: Side, facing: Facing) => {
      plan = run(plan, setFacing, { shelfId: 's1', side, facing });
    };
    set('left', { kind: 'lit', lowestUmol: 2, highestUmol: 10 });
    set('back', { kind: 'wall', reflectance: 0.8, distanceMm: 100 });
    const apart = run(plan, commands.markPlanted, { date: '2026-03-02' });
    set('right', { kind: 'shelf', shelfId: spare, gapMm: 50 });
    const beside = run(plan, commands.markPlanted, { date: '2026-03-02' });
    const stays = /over shelf 1 stays as then/;
    expect(face(beside, 'left', { kind: 'matt' })).toMatch(stays);
    expect(face(beside, 'back', { kind: 'wall', reflectance: 0.8, distanceMm: 90 })).toMatch(stays);
    const wider = { kind: 'shelf' as const, shelfId: spare, gapMm: 60 };
    expect(face(beside, 'right', wider)).toMatch(/over shelf 1 and .* over shelf 3 stay as then/);
    expect(face(beside, 'left', { kind: 'lit', lowestUmol: 4, highestUmol: 6 })).toBe('done');
    expect(face(beside, 'back', { kind: 'wall', reflectance: 0.7, distanceMm: 100 })).toBe('done');
    // Nothing grows on the third shelf; its lamps count where a planted shelf faces it.
    const dim = (of: Plan) => {
      const lamps = of.rack.shelves.at(-1)?.lamps ?? [];
      const edits = lamps.map(({ id: lampId }) => ({ lampId, patch: { dimming: 0.5 } }));
      return refusal(of, editLamps, { edits });
    };
    expect(dim(beside)).toMatch(/over shelf 3 stays as then/);
    expect(dim(apart)).toBe('done');
  });

  it('lets through what is only known better, or is none of the planted plants’', () => {
    const { editLampKind, editZone, addShelf } = commands;
    let plan = run(grown, editLampKind, { kindId: 'k1', patch: { name: 'strip, second batch' } });
    plan = run(plan, editZone, {
      zoneId: 'z1',
      patch: { name: 'north can', dischargeCoefficient: 0.7 },
    });
    plan = run(plan, addShelf, {});
    expect(plan.layout).toBe(grown.layout);
  });

  it('does not get another edit past the lock on the pots', () => {
    const edit = bind(commands.moveItems, { items: ['tray:t1'], dxMm: 1, dyMm: 0 });
    const asked = { edit, date: '2026-03-20', reason: 'why not' };
    expect(refusal(grown, commands.correctPlanted, asked)).toContain('would move');
  });
});
