import { describe, expect, it } from 'vitest';
import { applyCommand } from '../../../renderer/document/apply';
import type { Command } from '../../../renderer/document/command';
import {
  keepLayout,
  markPlanted,
  placePlants,
  removeFactor,
  repeatShelves,
  reportAsCase,
  redesign,
  setPlants,
  substitutePlant,
} from '../../../renderer/document/commands';
import { findInconsistency } from '../../../renderer/document/open';
import { potsOfRack } from '../../../renderer/engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';

function after<Args>(plan: Plan, command: Command<Args>, args: Args): Plan {
  const outcome = applyCommand(plan, command, args);
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.plan;
}

function refusal<Args>(plan: Plan, command: Command<Args>, args: Args): string {
  const outcome = applyCommand(plan, command, args);
  return outcome.ok ? '' : outcome.reason;
}

const list = [
  { code: 'P1', startValue: 2 },
  { code: 'P2', startValue: 2.5 },
  { code: 'P3', startValue: 3 },
];

describe('plants', () => {
  const listed = after(drawnPlan(), setPlants, { plants: list });
  const [first, second] = potsOfRack(listed.rack).map((pot) => pot.id);
  if (!first || !second) throw new Error('the sample has pots');
  const placed = after(listed, placePlants, {
    places: [
      { potId: first, plant: 'P1', startValue: 2 },
      { potId: second, plant: 'P2', startValue: 2.5 },
    ],
    measurementId: 'm1',
  });
  const plantIn = (plan: Plan, potId: string) =>
    plan.layout?.assignments.find((a) => a.potId === potId)?.plant;

  it('go to pots with what they weighed, in one step', () => {
    expect([plantIn(placed, first), plantIn(placed, second)]).toEqual(['P1', 'P2']);
    expect(placed.records.values['m1']).toEqual({ [first]: 2, [second]: 2.5 });
    expect(findInconsistency(placed)).toBeNull();
  });

  it('leave their pots with an earlier layout, and only their own values go with them', () => {
    const weighedAgain = {
      ...placed,
      records: { ...placed.records, values: { m1: { [first]: 2, [second]: 2.7 } } },
    };
    const { layout } = drawnPlan();
    if (!layout) throw new Error('the sample is drawn');
    const assignments = layout.assignments.map((a) => ({ ...a, plant: null }));
    const redrawn = after(weighedAgain, keepLayout, { layout: { ...layout, assignments } });
    expect(plantIn(redrawn, first)).toBeNull();
    expect(redrawn.records.values['m1']).toEqual({ [second]: 2.7 });
  });

  it('stay once planted, until a spare takes the place of a broken one, with a line in the log', () => {
    const planted = after(placed, markPlanted, { date: '2026-03-02' });
    expect(refusal(planted, placePlants, { places: [], measurementId: null })).toContain('planted');
    const mended = after(planted, substitutePlant, {
      potId: first,
      plant: 'P3',
      measurementId: 'm1',
      date: '2026-03-04',
      reason: 'stem broken',
    });
    expect(plantIn(mended, first)).toBe('P3');
    expect(mended.records.values['m1']?.[first]).toBe(3);
    expect(mended.plants?.find((plant) => plant.code === 'P1')?.lost).toBe(true);
    expect(mended.records.incidents.at(-1)?.text).toMatch(/P3 .* in place of P1: stem broken/);
    const again = {
      potId: second,
      plant: 'P1',
      measurementId: null,
      date: '2026-03-05',
      reason: '',
    };
    expect(refusal(mended, substitutePlant, again)).toBe('There is no spare plant P1.');
  });

  it('are listed once each, with levels that the trial knows', () => {
    const twice = [...list, { code: 'p1', startValue: 4 }];
    expect(refusal(listed, setPlants, { plants: twice })).toContain('p1 is listed twice');
    expect(findInconsistency({ ...listed, plants: twice })?.path).toBe('plants[3].code');
    const stranger = [{ code: 'P1', startValue: 1, levels: { f1: 'v9' } }];
    expect(refusal(listed, setPlants, { plants: stranger })).toContain('does not know');
    const cultivars = after(listed, setPlants, {
      plants: [{ code: 'P1', startValue: 1, levels: { f2: 'v3' } }],
    });
    const without = after(cultivars, removeFactor, { factorId: 'f2' });
    expect(without.plants?.[0]?.levels).toEqual({});
    expect(findInconsistency(without)).toBeNull();
  });
});

describe('ways out of a trial without replicates', () => {
  it('lay the factor on a smaller unit, by lot', () => {
    const args = { factorId: 'f1', unit: 'pot', blocks: { by: 'tray' }, scheme: 'complete-blocks' };
    const { trial } = after(samplePlan(), redesign, args as Parameters<typeof redesign.run>[1]);
    expect(trial?.factors[0]).toMatchObject({ unit: 'pot', kind: 'randomised', where: [] });
    expect(trial?.blocks).toEqual({ by: 'tray' });
  });

  it('repeat the shelves with what is given on them', () => {
    const plan = samplePlan();
    const [light, medium] = plan.trial?.factors ?? [];
    if (!plan.trial || !light || !medium) throw new Error('the sample has two factors');
    const where = [
      { unitId: 's1', levelId: 'v1' },
      { unitId: 's2', levelId: 'v2' },
    ];
    const given: Plan = {
      ...plan,
      trial: { ...plan.trial, factors: [{ ...light, kind: 'fixed', where }, medium] },
    };
    const grown = after(given, repeatShelves, { times: 2 });
    expect(grown.rack.shelves).toHaveLength(6);
    const levels = grown.rack.shelves.map(
      (shelf) => grown.trial?.factors[0]?.where.find((w) => w.unitId === shelf.id)?.levelId,
    );
    expect(levels).toEqual(['v1', 'v2', 'v1', 'v2', 'v1', 'v2']);
    expect(findInconsistency(grown)).toBeNull();
  });

  it('say in the plan that it is a case', () => {
    const told = after(samplePlan(), reportAsCase, {
      factorId: 'f1',
      kind: 'factor-not-replicated',
      why: '',
      date: '2026-03-01',
    });
    expect(told.acceptedNotices[0]?.reason).toContain('Nothing is claimed about');
  });
});
