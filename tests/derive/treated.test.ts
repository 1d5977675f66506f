import { describe, expect, test } from 'vitest';
import {
  bareOf,
  blocksOfPlan,
  findingsInputOf,
  floodOf,
  lightEnergyOf,
  noticesOf,
  planAsGrown,
  planAsTreated,
  potLightOf,
  ppfdByPotOf,
  trialInputOf,
} from '../../renderer/derive';
import type { Plan } from '../../shared-types/plan';
import type { LightSettings } from '../engine/treated/plans';
import { drawnWithWater, withSettings } from '../engine/treated/plans';

const lit = (settings: LightSettings): Plan =>
  withSettings(drawnWithWater(), { v2: { through: 'light', ...settings } });

/** Sum over the pots of a tray. */
const sumOf = (plan: Plan, trayId: string, of: 'ppfdUmol' | 'dliMol'): number =>
  [...potLightOf(plan).pots].reduce(
    (sum, [id, value]) => sum + (id.startsWith(`${trayId}:`) ? value[of] : 0),
    0,
  );

describe('the plan as treated', () => {
  test('twelve hours in place of sixteen give three quarters of the light of a day', () => {
    const plan = lit({ photoperiodHours: 12 });
    expect(plan.light.photoperiodHours).toBe(16);
    const treated = planAsTreated(plan);
    expect(sumOf(treated, 't2', 'dliMol') / sumOf(plan, 't2', 'dliMol')).toBeCloseTo(0.75, 12);
    expect(sumOf(treated, 't2', 'ppfdUmol') / sumOf(plan, 't2', 'ppfdUmol')).toBeCloseTo(1, 12);
    expect(sumOf(treated, 't1', 'dliMol')).toBe(sumOf(plan, 't1', 'dliMol'));
  });

  test('energy follows hours and dimming, shelf by shelf', () => {
    const kwh = (plan: Plan) => {
      const energy = lightEnergyOf(plan, 1);
      return energy.ok ? energy.value.shelves.map((shelf) => shelf.kwhPerDay) : [];
    };
    const plan = lit({ photoperiodHours: 12, dimming: 0.5 });
    const [one = 0, two = 0] = kwh(plan);
    const [oneNow, twoNow = 0] = kwh(planAsTreated(plan));
    expect(oneNow).toBe(one);
    expect(twoNow / two).toBeCloseTo((12 / 16) * 0.5, 12);
  });

  test('lamps that a level hangs are judged like any others, and told of their bay', () => {
    const told = (heightMm: number) =>
      noticesOf(lit({ hanging: { count: 1, heightMm } }))
        .filter(({ kind }) => kind === 'canopy-reaches-lamp')
        .map(({ about }) => about);
    // The sample's canopy grows to 200 mm.
    expect(told(200)).toEqual([['bay:b2', 'shelf:s2']]);
    expect(told(201)).toEqual([]);
  });

  test('is the rack as drawn before there is a draw', () => {
    const plan = { ...lit({ dimming: 0.5 }), layout: null };
    expect(planAsTreated(plan)).toBe(plan);
    const all = planAsTreated(plan, { as: 'level', factorId: 'f1', levelId: 'v2' });
    expect(sumOf(all, 't1', 'ppfdUmol') / sumOf(plan, 't1', 'ppfdUmol')).toBeCloseTo(0.5, 12);
    expect(bareOf(all)).toBe(plan);
  });

  test('blocks and draws read the rack as drawn, whichever plan they are handed', () => {
    const plan = lit({ dimming: 0.5 });
    if (!plan.trial) throw new Error('the sample has changed');
    const banded: Plan = {
      ...plan,
      trial: { ...plan.trial, blocks: { by: 'light', bands: 2 } },
    };
    const treated = planAsTreated(banded);
    expect(treated).not.toBe(banded);
    expect(blocksOfPlan(treated)).toBe(blocksOfPlan(banded));
    expect(trialInputOf(treated)).toBe(trialInputOf(banded));
    expect(trialInputOf(treated)?.ppfdByPot).toBe(ppfdByPotOf(banded));
  });

  test('findings take the light that the plants had, and the light that the draw read', () => {
    const plan = lit({ dimming: 0.5 });
    const input = findingsInputOf(plan);
    expect(input?.ppfdAtDraw).toBe(ppfdByPotOf(plan));
    expect(input?.ppfdByPot).toBe(ppfdByPotOf(planAsGrown(plan)));
    expect(
      (input?.ppfdByPot.get('t2:1:1') ?? 0) / (ppfdByPotOf(plan).get('t2:1:1') ?? 0),
    ).toBeCloseTo(0.5, 12);
  });

  test('a value typed into the records leaves all of it as it was', () => {
    const plan = withSettings(lit({ dimming: 0.5 }), {
      v3: { through: 'medium', mediumId: 'n1' },
    });
    const typed: Plan = {
      ...plan,
      records: { ...plan.records, values: { m2: { 't1:1:1': 12 } } },
    };
    expect(potLightOf(planAsTreated(typed))).toBe(potLightOf(planAsTreated(plan)));
    expect(floodOf(planAsTreated(typed))).toBe(floodOf(planAsTreated(plan)));
  });
});

describe('meter readings and treated lamps', () => {
  const reading = (value: number, of?: string) => ({
    id: 'g1',
    shelfId: 's2',
    xMm: 600,
    yMm: 300,
    zMm: 100,
    value,
    unit: 'ppfd' as const,
    luxPerPpfd: null,
    date: null,
    note: '',
    ...(of !== undefined && { of }),
  });
  const read = (plan: Plan): Plan => ({
    ...plan,
    light: { ...plan.light, readings: [reading(150)] },
  });

  test('what was read under the lamps as drawn holds for them dimmed', () => {
    const plan = read(lit({ dimming: 0.5 }));
    expect(potLightOf(plan).calibrations.has('s2')).toBe(true);
    const bare = potLightOf(plan).pots.get('t2:1:1');
    const now = potLightOf(planAsTreated(plan)).pots.get('t2:1:1');
    expect(bare?.source).toBe('calibrated');
    expect(now?.source).toBe('calibrated');
    expect((now?.ppfdUmol ?? 0) / (bare?.ppfdUmol ?? 0)).toBeCloseTo(0.5, 9);
    expect(potLightOf(planAsTreated(plan)).outdated.size).toBe(0);
  });

  test('of lamps of another kind it says nothing', () => {
    const plan = lit({ lampKindId: 'k2' });
    const [kind] = plan.rack.lampKinds;
    if (!kind) throw new Error('the sample has changed');
    const rack = {
      ...plan.rack,
      lampKinds: [kind, { ...kind, id: 'k2', name: 'other', lengthMm: 600 }],
    };
    const treated = planAsTreated(read({ ...plan, rack }));
    const unread = planAsTreated({ ...plan, rack });
    const now = potLightOf(treated).pots.get('t2:1:1');
    expect(now?.source).toBe('estimated');
    expect(now?.ppfdUmol).toBeCloseTo(potLightOf(unread).pots.get('t2:1:1')?.ppfdUmol ?? 0, 9);
  });
});
