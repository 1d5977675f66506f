import { describe, expect, it } from 'vitest';
import {
  addReadings,
  editFactor,
  editFlood,
  markPlanted,
  removeLampKind,
  setFlood,
  setLevelSettings,
  setRackByLevels,
} from '../../../renderer/document/commands';
import { readPlan, writePlan } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import type { LevelSettings } from '../../../shared-types/trial/trial';
import { lightStamp } from '../../../renderer/engine/lamps';
import { drawnWithWater, withFactor, withSettings } from '../../engine/treated/plans';
import { refusal, run } from '../../builders/run';

const through = (plan: Plan, factorId: string, appliedThrough: LevelSettings['through']) =>
  run(plan, editFactor, { factorId, patch: { appliedThrough } });
const lit = () => through({ ...drawnWithWater(), nextId: 20 }, 'f1', 'light');
const potted = () => through({ ...drawnWithWater(), nextId: 20 }, 'f2', 'medium');

const dim = (settings: LevelSettings | null) => ({ factorId: 'f1', levelId: 'v2', settings });
const bark = (settings: LevelSettings | null) => ({ factorId: 'f2', levelId: 'v3', settings });
const settingsOf = (plan: Plan) => plan.trial?.factors[0]?.levels[1]?.settings;

describe('what a level sets', () => {
  it('is kept with the level, also in the file, and leaves no trace once it is taken away', () => {
    const settings: LevelSettings = {
      through: 'light',
      lampKindId: 'k1',
      dimming: 0.5,
      photoperiodHours: 12,
      hanging: { count: 2, heightMm: 300 },
    };
    const plan = run(lit(), setLevelSettings, dim(settings));
    expect(settingsOf(plan)).toEqual(settings);
    const read = readPlan(writePlan(plan));
    expect(read.ok && read.plan).toEqual(plan);
    expect(run(plan, setLevelSettings, dim(null))).toEqual(lit());
  });

  it('is of what the factor is applied through, and goes when that changes', () => {
    const strong: LevelSettings = { through: 'water', solution: 'strong' };
    expect(refusal(lit(), setLevelSettings, dim(strong))).toBe(
      'light is not applied through water; say so first.',
    );
    const plan = run(lit(), setLevelSettings, dim({ through: 'light', dimming: 0.5 }));
    expect(settingsOf(through(plan, 'f1', 'water'))).toBeUndefined();
    expect(settingsOf(through(plan, 'f1', 'light'))).toBeDefined();
  });

  it('stays within what lamps, timers and pots can do', () => {
    const tried: [LevelSettings, string][] = [
      [{ through: 'light', dimming: 1.1 }, 'at most 1'],
      [{ through: 'light', photoperiodHours: 25 }, 'at most 24'],
      [{ through: 'light', hanging: { count: 0, heightMm: 300 } }, 'at least 1'],
    ];
    for (const [settings, expected] of tried) {
      expect(refusal(lit(), setLevelSettings, dim(settings))).toContain(expected);
    }
    const edge: LevelSettings = { through: 'light', dimming: 1, photoperiodHours: 24 };
    expect(refusal(lit(), setLevelSettings, dim(edge))).toBe('done');
  });

  it('names lamps and media that are in the plan, and holds on to them', () => {
    expect(refusal(lit(), setLevelSettings, dim({ through: 'light', lampKindId: 'k9' }))).toContain(
      'found "k9", expected the id of one of rack.lampKinds',
    );
    expect(
      refusal(potted(), setLevelSettings, bark({ through: 'medium', mediumId: 'n9' })),
    ).toContain('found "n9", expected the id of one of flood.media');
    const plan = run(potted(), setLevelSettings, bark({ through: 'medium', mediumId: 'n1' }));
    const media = plan.flood?.media ?? [];
    const without = (id: string) => ({ patch: { media: media.filter((m) => m.id !== id) } });
    expect(refusal(plan, editFlood, without('n1'))).toBe(
      'Level bark uses bark; give it another medium first.',
    );
    expect(refusal(plan, editFlood, without('n2'))).toBe('done');
    expect(refusal(plan, setFlood, { flood: null })).toContain('Level bark uses bark');
  });

  it('keeps a lamp kind that no lamp has but a level wants', () => {
    const [kind] = lit().rack.lampKinds;
    if (!kind) throw new Error('the sample has changed');
    const spare = { ...kind, id: 'k2', name: 'panel' };
    const plan = { ...lit(), rack: { ...lit().rack, lampKinds: [kind, spare] } };
    const wants = run(plan, setLevelSettings, dim({ through: 'light', lampKindId: 'k2' }));
    expect(refusal(wants, removeLampKind, { kindId: 'k2' })).toBe(
      'Level low uses panel; give it another lamp kind first.',
    );
    expect(refusal(plan, removeLampKind, { kindId: 'k2' })).toBe('done');
  });

  it('does not make a drawn layout another one', () => {
    const before = lit();
    const after = run(before, setLevelSettings, dim({ through: 'light', dimming: 0.5 }));
    expect(after.layout).toBe(before.layout);
  });
});

describe('the rack set as levels say that were placed by hand', () => {
  const placed = () => {
    const where = [
      { unitId: 's1', levelId: 'v1' },
      { unitId: 's2', levelId: 'v2' },
    ];
    const plan = withFactor({ ...drawnWithWater(), layout: null, nextId: 50 }, 'f1', {
      kind: 'fixed',
      where,
    });
    return withSettings(plan, {
      v1: { through: 'light', hanging: { count: 2, heightMm: 350 } },
      v2: { through: 'light', dimming: 0.5, photoperiodHours: 12 },
    });
  };

  it('draws lamps and timers, gives new lamps ids of their own, and leaves nothing to treat', () => {
    const plan = run(placed(), setRackByLevels, { factorId: 'f1' });
    expect(plan.rack.shelves.map(({ lamps }) => lamps.map(({ dimming }) => dimming))).toEqual([
      [1, 1],
      [0.5],
    ]);
    expect(plan.rack.shelves[0]?.lamps.map(({ id }) => id)).toEqual(['l50', 'l51']);
    expect(plan.rack.shelves[1]?.bays?.[0]?.photoperiodHours).toBe(12);
    const read = readPlan(writePlan(plan));
    expect(read.ok && read.plan).toEqual(plan);
    expect(run(plan, setRackByLevels, { factorId: 'f1' }).rack.shelves[1]).toEqual(
      plan.rack.shelves[1],
    );
  });

  it('is refused for levels that the draw places', () => {
    expect(refusal(lit(), setRackByLevels, { factorId: 'f1' })).toContain('is shuffled');
  });
});

describe('a reading', () => {
  const reading = {
    shelfId: 's2',
    xMm: 600,
    yMm: 300,
    zMm: 100,
    value: 80,
    unit: 'ppfd' as const,
    luxPerPpfd: null,
    date: null,
    note: '',
  };
  const taken = (plan: Plan) =>
    run(plan, addReadings, { readings: [reading] }).light.readings[0]?.of;

  it('is of the lamps as drawn before planting, and of the treated ones from then on', () => {
    const dimmed = run(lit(), setLevelSettings, dim({ through: 'light', dimming: 0.5 }));
    const [, shelf] = dimmed.rack.shelves;
    if (!shelf) throw new Error('the sample has changed');
    const atHalf = { ...shelf, lamps: shelf.lamps.map((lamp) => ({ ...lamp, dimming: 0.5 })) };
    expect(taken(dimmed)).toBe(lightStamp(shelf, dimmed.rack.lampKinds));
    const planted = run(dimmed, markPlanted, { date: '2026-03-02' });
    expect(taken(planted)).toBe(lightStamp(atHalf, dimmed.rack.lampKinds));
  });
});
