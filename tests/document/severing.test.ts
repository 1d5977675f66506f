import { describe, expect, it } from 'vitest';
import * as commands from '../../renderer/document/commands';
import { firstAnswers } from '../../renderer/document/quickStart';
import { applyCommand } from '../../renderer/document/apply';
import { nextTrialFrom } from '../../renderer/document/nextTrial';
import { findInconsistency } from '../../renderer/document/open/consistency';
import { planSchema } from '../../shared-types/plan';
import type { Plan } from '../../shared-types/plan';
import { refusal, run } from '../builders/run';
import { drawnPlan, samplePlan } from '../builders/samplePlan';

/** The sample with a harvest weight of the first pot, a start weight of the second. */
function harvested(plan: Plan): Plan {
  const start = { measurementId: 'm1', entries: [{ potId: 't1:1:2', value: 3 }] };
  const harvest = { measurementId: 'm2', entries: [{ potId: 't1:1:1', value: 12 }] };
  return run(run(plan, commands.enterValues, start), commands.enterValues, harvest);
}

const planted = harvested(drawnPlan('2026-03-02'));
const unlocked = run(planted, commands.unlockLayout, { date: '2026-05-01', reason: 'a slip' });
const spare: Plan = { ...unlocked, plants: [{ code: 'S1', startValue: 3 }] };

const other = drawnPlan().layout;
if (!other) throw new Error('the sample is drawn');
const redrawn = {
  ...other,
  seed: 'eight herons',
  drawnAt: '2026-05-02T09:00:00Z',
  assignments: other.assignments.map((a, i) => ({
    ...a,
    levels: { ...a.levels, f2: i % 2 === 0 ? 'v4' : 'v3' },
  })),
};

type Name = keyof typeof commands;
type Act = (plan: Plan) => string;

const act =
  <Args>(command: Parameters<typeof refusal<Args>>[1], args: Args): Act =>
  (plan) =>
    refusal(plan, command, args);

const pot = 't1:1:1';
const noPots = { trayId: 't1', grid: null };

const board = {
  direction: 'across' as const,
  atMm: 80,
  thicknessMm: 18,
  reflectance: 0.85,
  downToMm: 90,
};
const copied = { fromShelfId: 's1', toShelfIds: ['s2'] };

/** Shelf 1 with a board that stands clear of its pots, or where it is put. */
function boarded(plan: Plan, atMm = 1140): Plan {
  const shelves = plan.rack.shelves.map((shelf) =>
    shelf.id === 's1'
      ? {
          ...shelf,
          boards: [{ id: 'w90', ...board, atMm }],
          bays: [{ id: 'b1' }, { id: 'b91' }],
        }
      : shelf,
  );
  return { ...plan, nextId: 100, rack: { ...plan.rack, shelves } };
}

/** Tray t1 so narrow that only one column of its pots fits. */
function narrowed(plan: Plan): Plan {
  const shelves = plan.rack.shelves.map((shelf) => ({
    ...shelf,
    trays: shelf.trays.map((tray) =>
      tray.id === 't1' ? { ...tray, widthMm: tray.grid?.potDiameterMm ?? 0 } : tray,
    ),
  }));
  return { ...plan, rack: { ...plan.rack, shelves } };
}

/**
 * Every command says here what it does to standing records: `safe`, or an edit of its own that
 * would sever them and has to be refused. A new command does not compile before it has decided.
 */
const decided: Record<Name, 'safe' | Act> = {
  // The draw and what it was drawn for.
  keepLayout: act(commands.keepLayout, { layout: redrawn }),
  dropLayout: act(commands.dropLayout, {}),
  placePlants: act(commands.placePlants, {
    places: [{ potId: pot, plant: 'P9', startValue: 2 }],
    measurementId: null,
  }),
  substitutePlant: (plan) =>
    refusal({ ...plan, plants: [{ code: 'S1', startValue: 3 }] }, commands.substitutePlant, {
      potId: pot,
      plant: 'S1',
      measurementId: null,
      date: '2026-05-02',
      reason: '',
    }),
  dropTrial: act(commands.dropTrial, {}),
  addFactor: act(commands.addFactor, { name: 'pH', kind: 'fixed', unit: 'pot', levels: ['5'] }),
  editFactor: act(commands.editFactor, { factorId: 'f2', patch: { unit: 'tray' } }),
  removeFactor: act(commands.removeFactor, { factorId: 'f2' }),
  addLevel: act(commands.addLevel, { factorId: 'f2', name: 'sand' }),
  removeLevel: act(commands.removeLevel, { factorId: 'f2', levelId: 'v4' }),
  moveLevel: act(commands.moveLevel, { factorId: 'f2', levelId: 'v4', to: 0 }),
  setTimes: act(commands.setTimes, { factorId: 'f2', levelId: 'v4', times: 2 }),
  setGivenWhere: (plan) => {
    const factors = plan.trial?.factors.map((f) => ({ ...f, kind: 'fixed' as const })) ?? [];
    const given = plan.trial ? { ...plan, trial: { ...plan.trial, factors } } : plan;
    const args = { factorId: 'f2', unitIds: [pot], levelId: 'v4' };
    return refusal(given, commands.setGivenWhere, args);
  },
  redesign: act(commands.redesign, {
    factorId: 'f2',
    unit: 'tray',
    blocks: { by: 'none' },
    scheme: 'completely-randomised',
  }),
  setBlocks: act(commands.setBlocks, { blocks: { by: 'rows', perBlock: 1 } }),
  setScheme: act(commands.setScheme, { scheme: 'split-plot' }),
  setConstraint: act(commands.setConstraint, { patch: { acceptanceShare: 0.5 } }),
  // The pots.
  removeItems: act(commands.removeItems, { items: ['tray:t2'] }),
  removeShelves: act(commands.removeShelves, { shelfIds: ['s2'] }),
  setGrid: act(commands.setGrid, noPots),
  // Pots that do not fit go.
  fitPots: (plan) => refusal(narrowed(plan), commands.fitPots, { trayIds: ['t1'] }),
  toggleEmptyHoles: act(commands.toggleEmptyHoles, { potIds: ['t2:1:1'] }),
  toggleGuards: act(commands.toggleGuards, { potIds: ['t2:1:1'] }),
  setGuardRing: act(commands.setGuardRing, { trayIds: ['t2'], on: true }),
  resizeTray: act(commands.resizeTray, {
    trayId: 't2',
    xMm: 0,
    yMm: 0,
    widthMm: 120,
    depthMm: 120,
    refitGrid: true,
  }),
  addBoard: act(commands.addBoard, { shelfIds: ['s2'], board }),
  copyBoards: (plan) => {
    const under = boarded(plan, 80);
    return refusal(under, commands.copyBoards, copied);
  },
  editBoard: (plan) =>
    refusal(boarded(plan), commands.editBoard, { boardId: 'w90', patch: { atMm: 80 } }),
  // What goes with its values is told with their count.
  removeMeasurement: act(commands.removeMeasurement, { measurementId: 'm2' }),
  // Corrections that are logged, and all that is neither layout nor pot.
  swapPots: 'safe',
  markPlanted: 'safe',
  correctPlanted: 'safe',
  unlockLayout: 'safe',
  setPlants: 'safe',
  editTrial: 'safe',
  logDelivered: 'safe',
  removeDelivered: 'safe',
  setTrial: 'safe',
  addMeasurement: 'safe',
  editMeasurement: 'safe',
  renameLevel: 'safe',
  setControl: 'safe',
  setLevelSettings: 'safe',
  setRackByLevels: 'safe',
  setContrasts: 'safe',
  fixRule: 'safe',
  releaseRule: 'safe',
  planRuns: 'safe',
  // A run that was never grown.
  removeRun: 'safe',
  reportAsCase: 'safe',
  // Shelves and trays that are added hold no recorded pot.
  repeatShelves: 'safe',
  addShelf: 'safe',
  addTray: 'safe',
  alignItems: 'safe',
  copyToShelves: 'safe',
  duplicateBeside: 'safe',
  duplicateItems: 'safe',
  spreadItems: 'safe',
  duplicateShelf: 'safe',
  // The drawing is corrected; the pots stay on their shelf.
  editShelf: 'safe',
  setFacing: 'safe',
  placeRack: 'safe',
  duplicateRack: 'safe',
  setRoom: 'safe',
  copySides: 'safe',
  editTray: 'safe',
  setTrayCanopy: 'safe',
  setDrainPlace: 'safe',
  setLeadEnd: 'safe',
  setBayHours: 'safe',
  moveItems: 'safe',
  reorderShelf: 'safe',
  renumberShelves: 'safe',
  addLamp: 'safe',
  editLamps: 'safe',
  addLampKind: 'safe',
  editLampKind: 'safe',
  removeLampKind: 'safe',
  restateOutput: 'safe',
  arrangeLamps: 'safe',
  partLamps: 'safe',
  editLight: 'safe',
  addReadings: 'safe',
  editReading: 'safe',
  keepReadings: 'safe',
  removeReadings: 'safe',
  setRota: 'safe',
  placeInRota: 'safe',
  startFlood: 'safe',
  setFlood: 'safe',
  editFlood: 'safe',
  addZone: 'safe',
  editZone: 'safe',
  removeZone: 'safe',
  addMedium: 'safe',
  addCircuit: 'safe',
  enterValues: 'safe',
  importValues: 'safe',
  settleMark: 'safe',
  settleValue: 'safe',
  dateValues: 'safe',
  setTare: 'safe',
  markPots: 'safe',
  notePot: 'safe',
  addIncident: 'safe',
  editIncident: 'safe',
  blindTrial: 'safe',
  openBlinding: 'safe',
  removeIncident: 'safe',
  acceptNotice: 'safe',
  withdrawAcceptance: 'safe',
  renamePlan: 'safe',
  quickStart: act(commands.quickStart, firstAnswers),
  editNotes: 'safe',
  setLengthDisplay: 'safe',
};

const severing = Object.entries(decided).flatMap(([name, said]) =>
  said === 'safe' ? [] : [{ name, sever: said }],
);

describe('records that stand', () => {
  it.each(severing)('are not severed by $name, planted or unlocked with a reason', ({ sever }) => {
    expect(sever(planted)).not.toBe('done');
    expect(sever(unlocked)).not.toBe('done');
  });

  it('name their count and what to do, whether or not the layout is unlocked', () => {
    const told =
      '1 value was recorded on this layout, so its factors and levels stay. To change that, start the next trial from this plan, under Layout.';
    for (const plan of [planted, unlocked]) {
      expect(decided.addLevel).not.toBe('safe');
      expect(refusal(plan, commands.addLevel, { factorId: 'f2', name: 'sand' })).toBe(told);
    }
    const more = run(unlocked, commands.markPots, {
      potIds: ['t2:1:1', 't2:1:2'],
      mark: { mark: 'dead', date: null, reason: '' },
    });
    const swap = { a: 't1:1:2', b: 't2:1:3', date: '2026-05-01', reason: '' };
    const exchanged = run(more, commands.swapPots, { ...swap, recordsMove: false });
    expect(refusal(exchanged, commands.keepLayout, { layout: redrawn })).toBe(
      '1 value, 2 marks and 1 exchange were recorded on this layout, so every pot keeps its treatment and plant. Do that in a new run or in the next trial; both start under Layout.',
    );
    expect(refusal(exchanged, commands.dropLayout, {})).toMatch(/so the layout stays\./);
    expect(refusal(exchanged, commands.toggleGuards, { potIds: ['t2:2:3'] })).toBe(
      'Pot 2A-B3 is part of a trial with 1 value, 2 marks and 1 exchange and would become a guard pot. Do that in a new run or in the next trial; both start under Layout.',
    );
  });

  it('count for the second entry alone, and for an exchange alone', () => {
    const second = run(drawnPlan(), commands.enterValues, {
      measurementId: 'm2',
      entries: [{ potId: pot, value: 12 }],
      second: true,
    });
    expect(refusal(second, commands.keepLayout, { layout: redrawn })).toMatch(/^1 value was/);
    const swap = { a: 't1:1:2', b: 't2:1:3', date: '2026-05-01', reason: '', recordsMove: false };
    const exchanged = run(drawnPlan(), commands.swapPots, swap);
    expect(refusal(exchanged, commands.keepLayout, { layout: redrawn })).toMatch(/^1 exchange was/);
  });

  it('allow what corrects the drawing or a name, logged exchanges and the next value', () => {
    const { renameLevel, editFactor, moveItems, editShelf, addTray, swapPots, markPlanted } =
      commands;
    const swap = { a: 't1:1:2', b: 't2:1:3', date: '2026-05-01', reason: '', recordsMove: true };
    expect(refusal(unlocked, swapPots, swap)).toBe('done');
    expect(
      refusal(unlocked, renameLevel, { factorId: 'f2', levelId: 'v3', name: 'pine bark' }),
    ).toBe('done');
    expect(refusal(unlocked, editFactor, { factorId: 'f2', patch: { name: 'substrate' } })).toBe(
      'done',
    );
    expect(refusal(unlocked, moveItems, { items: ['tray:t1'], dxMm: 1, dyMm: 0 })).toBe('done');
    expect(refusal(unlocked, editShelf, { shelfId: 's1', patch: { number: 7 } })).toBe('done');
    expect(refusal(unlocked, addTray, { shelfId: 's1' })).toBe('done');
    expect(refusal(unlocked, markPlanted, { date: '2026-03-02' })).toBe('done');
    expect(
      refusal(spare, commands.substitutePlant, {
        potId: 't1:1:2',
        plant: 'S1',
        measurementId: 'm1',
        date: '2026-03-04',
        reason: 'snapped',
      }),
    ).toBe('done');
  });

  it('do not stand where only the start was weighed, or once they are cleared', () => {
    const started = run(drawnPlan(), commands.enterValues, {
      measurementId: 'm1',
      entries: [{ potId: pot, value: 3 }],
    });
    expect(refusal(started, commands.keepLayout, { layout: redrawn })).toBe('done');
    const cleared = run(unlocked, commands.enterValues, {
      measurementId: 'm2',
      entries: [{ potId: pot, value: null }],
    });
    expect(refusal(cleared, commands.keepLayout, { layout: redrawn })).toBe('done');
  });

  it('are given no treatment by a draw that comes after them', () => {
    const grown = harvested(samplePlan());
    expect(refusal(grown, commands.keepLayout, { layout: redrawn })).toBe(
      '1 value was recorded before any draw, so a draw now cannot have given them their treatments. Do that in a new run or in the next trial; both start under Layout.',
    );
    const factors = grown.trial?.factors.map((f) => ({ ...f, kind: 'fixed' as const })) ?? [];
    const given = grown.trial ? { ...grown, trial: { ...grown.trial, factors } } : grown;
    expect(refusal(given, commands.keepLayout, { layout: redrawn })).toBe('done');
  });

  it('hold against any command, whoever wrote it', () => {
    const sly = {
      name: 'sly',
      label: () => 'Sly',
      run: (plan: Plan) => ({ ...plan, layout: redrawn }),
    };
    expect(refusal(unlocked, sly, {})).toMatch(/every pot keeps its treatment/);
  });
});

describe('a measurement with recorded values', () => {
  it('keeps the unit and the time they were recorded in', () => {
    const edit = (plan: Plan, patch: object) =>
      refusal(plan, commands.editMeasurement, { measurementId: 'm2', patch });
    expect(edit(planted, { unit: 'kg' })).toMatch(/^1 value was recorded as .* its unit stays/);
    expect(edit(planted, { timepoint: 'interim' })).toMatch(/so its time stays/);
    const unit = planted.trial?.measurements.find((m) => m.id === 'm2')?.unit;
    expect(edit(planted, { unit: ` ${unit ?? ''} `, decimals: 2 })).toBe('done');
    expect(edit(drawnPlan('2026-03-02'), { unit: 'kg', timepoint: 'interim' })).toBe('done');
  });
});

describe('the next trial from a plan', () => {
  it('keeps the design and leaves behind what was drawn, planted, recorded and fixed', () => {
    const fixed = run(planted, commands.editMeasurement, {
      measurementId: 'm2',
      patch: { date: '2026-04-30' },
    });
    const next = nextTrialFrom(fixed);
    expect(planSchema.parse(next)).toEqual(next);
    expect(findInconsistency(next)).toBeNull();
    expect(next.layout).toBeNull();
    expect(next.records).toEqual({ values: {}, second: {}, marks: {}, incidents: [] });
    expect(next.rack).toBe(planted.rack);
    expect(next.trial?.factors).toEqual(planted.trial?.factors);
    expect(next.trial?.measurements.map((m) => m.date)).toEqual([null, null]);
    expect(next.title).toBe('Bark or clay, next trial');
    expect(next.notes).toBe(planted.notes);
    expect(next.trial?.expected).toEqual(planted.trial?.expected);
    expect(applyCommand(next, commands.keepLayout, { layout: redrawn }).ok).toBe(true);
  });

  it('takes the spread that was found, and adds what was learnt to the notes', () => {
    const noted = run(planted, commands.editNotes, { notes: 'Cold March.' });
    const next = nextTrialFrom(noted, {
      spread: { plantSd: 2.4, unitSd: 0.7 },
      learnt: 'Clay grew more.',
    });
    expect(planSchema.parse(next)).toEqual(next);
    expect(next.notes).toBe('Cold March.\n\nClay grew more.');
    expect(next.trial?.expected).toMatchObject({ plantSd: 2.4, unitSd: 0.7 });
    // Of units nothing may be known: then what was expected of them stands.
    const plants = nextTrialFrom(next, { spread: { plantSd: 3 } });
    expect(plants.trial?.expected).toEqual({ ...next.trial?.expected, plantSd: 3 });
    expect(plants.notes).toBe(next.notes);
  });
});
