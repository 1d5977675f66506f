import { describe, expect, it } from 'vitest';
import {
  canopyOverTrialOf,
  lightAtOwnHeightsOf,
  lightOverTrialOf,
  noticesOf,
  lightByRotaOf,
  potLightOf,
} from '../../../renderer/derive';
import { potsOfRack } from '../../../renderer/engine/geometry';
import { potLight } from '../../../renderer/engine/light';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { drawnPlan } from '../../builders/samplePlan';

const height = (id: string, date: string | null, more: Partial<Measurement> = {}): Measurement => ({
  id,
  name: 'plant height',
  kind: 'length',
  unit: 'cm',
  decimals: 1,
  timepoint: 'interim',
  date,
  lowest: 0,
  highest: null,
  ...more,
});

/** Two shelves of six pots, pots 90 mm high; dated from 1 March to 10 April (40 days). */
function grown(
  measured: { m: Measurement; cm: (pot: { trayId: string; clay: boolean }) => number }[],
  change: (plan: Plan) => Plan = (plan) => plan,
): Plan {
  const plan = change(drawnPlan('2026-03-01'));
  if (!plan.trial) throw new Error('no trial');
  const clay = new Set(
    plan.layout?.assignments.flatMap(({ potId, levels }) => (levels.f2 === 'v4' ? [potId] : [])),
  );
  const values = Object.fromEntries(
    measured.map(({ m, cm }) => [
      m.id,
      Object.fromEntries(
        potsOfRack(plan.rack).map(({ id, trayId }) => [id, cm({ trayId, clay: clay.has(id) })]),
      ),
    ]),
  );
  return {
    ...plan,
    trial: {
      ...plan.trial,
      startDate: '2026-03-01',
      harvestDate: '2026-04-10',
      measurements: [...plan.trial.measurements, ...measured.map(({ m }) => m)],
    },
    records: { ...plan.records, values },
  };
}

describe('the canopy over the trial', () => {
  // Of the sample's shelves: 80 mm at planting, 200 mm at harvest.
  it('follows the mean per tray between dates, and the plan from planting and to harvest', () => {
    const plan = grown([
      { m: height('m8', '2026-03-11'), cm: ({ trayId }) => (trayId === 't1' ? 3 : 1) },
      { m: height('m9', '2026-03-31'), cm: ({ trayId }) => (trayId === 't1' ? 15 : 5) },
    ]);
    const { from, days, on } = canopyOverTrialOf(plan, 'recorded');
    expect([from, days]).toEqual(['recorded', 40]);
    // Pot and plant: 90 + 30 = 120 mm on day 10, 90 + 150 = 240 mm on day 30.
    expect([0, 5, 10, 20, 30, 40].map((day) => on('t1', day))).toEqual([
      80, 100, 120, 180, 240, 240,
    ]);
    expect([10, 30, 35, 40].map((day) => on('t2', day))).toEqual([100, 140, 170, 200]);
  });

  it('without records grows as planned, and without dates stays', () => {
    const planned = canopyOverTrialOf(grown([]), 'recorded');
    expect([planned.from, planned.on('t1', 20)]).toEqual(['planned', 140]);
    expect(canopyOverTrialOf(drawnPlan(), 'recorded')).toMatchObject({ from: 'fixed', days: null });
  });

  it('takes lengths that are heights by their name or by what is said of them', () => {
    const from = (more: Partial<Measurement>) => {
      const plan = grown([{ m: height('m8', '2026-03-11', more), cm: () => 3 }]);
      return canopyOverTrialOf(plan, 'recorded').from;
    };
    expect(from({ name: 'leaf length' })).toBe('planned');
    expect(from({ name: 'shoot', plantHeight: true })).toBe('recorded');
    expect(from({ plantHeight: false })).toBe('planned');
    expect(from({ kind: 'count', unit: '' })).toBe('planned');
    expect(from({ date: null })).toBe('planned');
  });

  it('is what light over the trial is integrated along', () => {
    const plan = grown([
      { m: height('m8', '2026-03-01', { timepoint: 'start' }), cm: () => 1 },
      { m: height('m9', '2026-04-10'), cm: () => 11 },
    ]);
    const found = lightOverTrialOf(plan);
    if (!found?.ok) throw new Error('no light over the trial');
    expect(found.value).toMatchObject({ days: 40, moved: false, heights: 'recorded' });
    // The same pot with the canopy of the tray at 20 even heights from 100 to 200 mm.
    const bare = { ...plan.rack };
    bare.shelves = bare.shelves.map((s) => ({
      ...s,
      reflectances: { above: 0, canopy: 0, front: 0, back: 0, left: 0, right: 0 },
    }));
    const open = lightOverTrialOf({ ...plan, rack: bare });
    const at = (mm: number) => {
      const shelves = bare.shelves.map((s) => ({
        ...s,
        canopy: { plantingMm: mm, harvestMm: mm },
      }));
      return potLight({ ...bare, shelves }, plan.light).pots.get('t1:1:2')?.ppfdUmol ?? NaN;
    };
    const mean =
      Array.from({ length: 20 }, (_, i) => at(102.5 + 5 * i)).reduce((a, b) => a + b) / 20;
    const got = open?.ok ? open.value.pots.get('t1:1:2')?.ppfdUmol : NaN;
    expect(Math.abs((got ?? NaN) / mean - 1)).toBeLessThan(0.002);
    // What carries a treatment's effect is no covariate.
    expect(lightByRotaOf(plan)).toBeNull();
  });
});

describe('light at the plants’ own heights', () => {
  const closer = (plan: Plan): Plan => ({
    ...plan,
    rack: {
      ...plan.rack,
      shelves: plan.rack.shelves.map((s) => ({
        ...s,
        trays: s.trays.map((t) => ({
          ...t,
          grid: t.grid && { ...t.grid, rows: 3, columns: 5, pitchXMm: 110, pitchYMm: 110 },
        })),
      })),
    },
  });
  const by = (clayCm: number, barkCm: number) =>
    grown(
      [{ m: height('m8', '2026-04-10'), cm: ({ clay }) => (clay ? clayCm : barkCm) }],
      (plan) => {
        const near = closer(plan);
        const assignments = potsOfRack(near.rack).map((pot, i) => ({
          potId: pot.id,
          block: pot.trayId,
          plant: `P${i}`,
          levels: { f1: pot.shelfId === 's1' ? 'v1' : 'v2', f2: i % 2 === 0 ? 'v3' : 'v4' },
        }));
        return { ...near, layout: near.layout && { ...near.layout, assignments } };
      },
    );

  it('a plant nearer to the lamps has more light than its canopy, by its own height', () => {
    const plan = by(10, 5);
    const found = lightAtOwnHeightsOf(plan);
    expect(found?.recorded).toEqual({ name: 'plant height', date: '2026-04-10' });
    const own = found?.pots.get('t1:2:2');
    expect(own?.heightMm).toBe(140);
    expect(own?.canopyUmol).toBeCloseTo(potLightOf(plan).pots.get('t1:2:2')?.ppfdUmol ?? NaN, 9);
    const tall = found?.pots.get('t1:2:3');
    expect(tall?.heightMm).toBe(190);
    expect((tall?.openUmol ?? 0) / (tall?.canopyUmol ?? 1)).toBeGreaterThan(1.1);
    expect([tall?.shadedShare, tall?.tallerByMm]).toEqual([0, 0]);
    expect(own?.tallerByMm).toBe(50);
    expect(own?.shadedShare).toBeGreaterThan(0);
  });

  it('are not spoken of where all plants are of one height or none was measured', () => {
    expect(lightAtOwnHeightsOf(by(8, 8))).toBeNull();
    expect(lightAtOwnHeightsOf(grown([]))).toBeNull();
  });

  it('a dead plant shades nobody', () => {
    const plan = by(18, 3);
    const marks = Object.fromEntries(
      (plan.layout?.assignments ?? []).flatMap(({ potId, levels }) =>
        levels.f2 === 'v4' ? [[potId, { mark: 'dead' as const, date: null, reason: '' }]] : [],
      ),
    );
    const found = lightAtOwnHeightsOf({ ...plan, records: { ...plan.records, marks } });
    expect(found?.pots.get('t1:2:2')?.shadedShare).toBe(0);
    expect(lightAtOwnHeightsOf(plan)?.pots.get('t1:2:2')?.shadedShare).toBeGreaterThan(0.1);
  });

  it('plants that are recorded as high as the lamps are named, and have no figure', () => {
    // Lamps 420 mm up; pots of 90 mm.
    const plan = by(33, 6);
    expect(lightAtOwnHeightsOf(plan)?.pots.has('t1:2:3')).toBe(false);
    expect(lightAtOwnHeightsOf(by(32.9, 6))?.pots.has('t1:2:3')).toBe(true);
    expect(lightAtOwnHeightsOf(plan)?.pots.get('t1:2:2')?.shadedShare).toBeGreaterThan(0.1);
    const reached = lightOverTrialOf(by(33, 33));
    expect(reached?.ok === false && reached.reason).toContain(
      'tray 1A: plants and pots of 420 mm reach the lowest lamp at 420 mm',
    );
    expect(lightOverTrialOf(by(32, 32))?.ok).toBe(true);
  });

  it('treatments of unlike height side by side are told, and not where little is lost', () => {
    const told = (plan: Plan) => noticesOf(plan).filter(({ kind }) => kind === 'neighbours-shade');
    const [notice, ...more] = told(by(18, 6));
    expect(more).toEqual([]);
    expect(notice?.text).toMatch(
      /^Plants of .*bark lose about \d+ % of their light to taller neighbours, those of .*clay 0 % \(estimated by the heights of 2026-04-10\). It is \d+ % with narrow leaves and \d+ % where leaves touch\./,
    );
    expect(told(by(9, 6))).toEqual([]);
    expect(told(grown([]))).toEqual([]);
  });
});
