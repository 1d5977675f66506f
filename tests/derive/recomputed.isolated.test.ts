import { beforeEach, describe, expect, it, vi } from 'vitest';
import { noticesOf, stageStates } from '../../renderer/derive';
import { openQuestions } from '../../renderer/derive/records/valueQuestions';
import { enterValues, markPots, renameLevel } from '../../renderer/document/commands';
import * as records from '../../renderer/document/records';
import * as flood from '../../renderer/engine/flood';
import * as geometry from '../../renderer/engine/geometry';
import * as light from '../../renderer/engine/light';
import * as trial from '../../renderer/engine/trial';
import * as power from '../../renderer/engine/trial/power';
import type { Plan } from '../../shared-types/plan';
import { manyRecorded } from '../builders/manyPots';
import { run } from '../builders/run';

vi.mock('../../renderer/document/records', { spy: true });
vi.mock('../../renderer/engine/flood', { spy: true });
vi.mock('../../renderer/engine/geometry', { spy: true });
vi.mock('../../renderer/engine/light', { spy: true });
vi.mock('../../renderer/engine/trial', { spy: true });
vi.mock('../../renderer/engine/trial/power', { spy: true });

/** All that screens read after a key. */
function derive(plan: Plan): ReturnType<typeof noticesOf> {
  openQuestions(plan);
  const notices = noticesOf(plan);
  stageStates(plan, notices);
  return notices;
}

const timesOf = (f: unknown): number => (vi.isMockFunction(f) ? f.mock.calls.length : NaN);

/** How often each room was asked anew since the last call. */
function asked() {
  const calls = {
    geometry: timesOf(geometry.potsOfRack) + timesOf(geometry.rackNotices),
    light: timesOf(light.shelfFigures) + timesOf(light.lightNotices),
    flood: timesOf(flood.floodNotices),
    design: timesOf(trial.trialNotices),
    layout: timesOf(trial.drawnSite) + timesOf(trial.layoutNotices),
    power: timesOf(power.powerNotices),
    starts: timesOf(trial.startNotices),
    slips: timesOf(records.slipsOfMeasurement),
  };
  vi.clearAllMocks();
  return calls;
}

const NOTHING = {
  geometry: 0,
  light: 0,
  flood: 0,
  design: 0,
  layout: 0,
  power: 0,
  starts: 0,
  slips: 0,
};

const few = { shelves: 2, traysPerShelf: 2, rows: 3, columns: 4 };
const POT = 't101:1:1';
const typed = (plan: Plan, measurementId: string, value: number) =>
  run(plan, enterValues, { measurementId, entries: [{ potId: POT, value }] });

describe('what is computed anew', () => {
  let plan: Plan;
  beforeEach(() => {
    plan = manyRecorded(few);
    derive(plan);
    vi.clearAllMocks();
  });

  it('after a value at harvest: the slips of that measurement alone', () => {
    derive(typed(plan, 'm2', 33));
    expect(asked()).toEqual({ ...NOTHING, slips: 1 });
  });

  it('after a value at the start: the slips that read it, and how the plants started', () => {
    const before = derive(plan).map(({ kind }) => kind);
    vi.clearAllMocks();
    const after = derive(typed(plan, 'm1', 40));
    expect(asked()).toEqual({ ...NOTHING, slips: 2, starts: 1 });
    expect(after.map(({ kind }) => kind)).not.toEqual(before);
  });

  it('after a mark: the slips, which leave out the dead', () => {
    derive(run(plan, markPots, { potIds: [POT], mark: { mark: 'dead', date: null, reason: '' } }));
    expect(asked()).toEqual({ ...NOTHING, slips: 2 });
  });

  it('after an undo: nothing', () => {
    derive(typed(plan, 'm2', 33));
    vi.clearAllMocks();
    derive(plan);
    expect(asked()).toEqual(NOTHING);
  });

  it('after another name of a level: the design, and no light', () => {
    const levelId = plan.trial?.factors[0]?.levels[0]?.id ?? '';
    derive(run(plan, renameLevel, { factorId: 'f1', levelId, name: 'peat' }));
    expect(asked()).toMatchObject({ design: 1, light: 0, flood: 0, slips: 0 });
  });
});

describe('notices accepted before', () => {
  it('are each looked at once, however many notices there are', () => {
    let looks = 0;
    const acceptedNotices = [1, 2, 3].map((column) => ({
      kind: 'value-suspicious',
      get about() {
        looks++;
        return ['measurement:m2', `pot:t101:1:${column}`];
      },
      reason: 'weighed again',
      date: null,
    }));
    const values = Object.fromEntries([1, 2, 3, 4].map((column) => [`t101:1:${column}`, 900]));
    const plan = manyRecorded(few);
    const odd = { ...plan.records.values, m2: { ...plan.records.values['m2'], ...values } };
    const notices = noticesOf({
      ...plan,
      records: { ...plan.records, values: odd },
      acceptedNotices,
    });
    const ours = notices.filter(({ kind }) => kind === 'value-suspicious');
    expect(ours.length).toBeGreaterThan(1);
    expect(looks).toBe(acceptedNotices.length);
  });
});

describe('a layout drawn to balance the starting values', () => {
  it('is stale once its pots change, not once a starting value is corrected', () => {
    const { layout, records: kept, ...bare } = manyRecorded(few);
    const base: Plan = { ...bare, layout: null, records: kept };
    const balanced = {
      ...base,
      trial: base.trial && {
        ...base.trial,
        constraint: { acceptanceShare: 0.5, balance: ['start' as const], likeNeighbours: null },
      },
    };
    const startByPot = new Map(Object.entries(kept.values['m1'] ?? {}));
    if (!balanced.trial || !layout) throw new Error('a planted trial is expected');
    const input = {
      rack: balanced.rack,
      trial: balanced.trial,
      zones: [],
      ppfdByPot: new Map(),
      startByPot,
    };
    const drawn = trial.drawLayout({
      ...input,
      seed: 'by size',
      drawnAt: layout.drawnAt,
      engineVersion: 'test',
    });
    const planted: Plan = { ...balanced, layout: drawn.layout };
    const kinds = (of: Plan) => noticesOf(of).map(({ kind }) => kind);
    expect(kinds(planted)).not.toContain('layout-stale');
    // The layout keeps the starting values that its draw read.
    expect(kinds(typed(planted, 'm1', 5.05))).not.toContain('layout-stale');
    const fewer = { ...planted.rack, shelves: planted.rack.shelves.slice(1) };
    expect(kinds({ ...planted, rack: fewer })).toContain('layout-stale');
  });
});
