import { expect, test } from 'vitest';
import { setupListOf } from '../../../renderer/derive';
import type { Plan } from '../../../shared-types/plan';
import { drawnWithWater, withFactor, withSettings } from './plans';

const listOf = (plan: Plan) => {
  const found = setupListOf(plan);
  if (!found) throw new Error('the plan is drawn');
  return found;
};
const said = (lines: readonly { place: string; levels: string; what: string }[]) =>
  lines.map(({ place, levels, what }) => `${place}: ${levels}: ${what}`);

test('each shelf or bay with its level, lamps and hours, as drawn where the level says nothing', () => {
  const plan = withSettings(drawnWithWater(), {
    v2: { through: 'light', dimming: 0.5, photoperiodHours: 12 },
  });
  const name = plan.rack.lampKinds[0]?.name ?? '';
  expect(said(listOf(plan).lamps)).toEqual([
    `Shelf 1: high: 1 × ${name} at 100 %, 16 h a day`,
    `Shelf 2: low: 1 × ${name} at 50 %, 12 h a day`,
  ]);
});

test('lamps of a bay’s own with where their middles hang', () => {
  const plan = withSettings(drawnWithWater(), {
    v1: { through: 'light', hanging: { count: 2, heightMm: 350 } },
  });
  const [shelf] = plan.rack.shelves;
  if (!shelf) throw new Error('the sample has changed');
  const [x, front, back] = [shelf.widthMm / 2, shelf.depthMm / 4, (3 * shelf.depthMm) / 4];
  expect(listOf(plan).lamps[0]?.what).toContain(
    `hung 350 mm above the shelf along the shelf, middles from left / front at ${x} mm / ${front} mm and ${x} mm / ${back} mm`,
  );
});

test('each reservoir with its solution, litres, depth and floods', () => {
  const plan = withSettings(withFactor(drawnWithWater(), 'f1', { unit: 'zone' }), {
    v1: { through: 'water', solution: 'feed', ecMsCm: 1 },
    v2: { through: 'water', solution: 'strong feed', ecMsCm: 2.1, everyMinutes: 480 },
  });
  // From 6 to 22 h every 240 min are 4 floods, every 480 min 2.
  expect(said(listOf(plan).water)).toEqual([
    'A: high: feed, EC 1 mS/cm, 100 L, 40 mm deep, 4 floods a day',
    'B: low: strong feed, EC 2.1 mS/cm, 100 L, 40 mm deep, 2 floods a day',
  ]);
});

test('each medium with its pots and litres', () => {
  const plan = withSettings(drawnWithWater(), {
    v3: { through: 'medium', mediumId: 'n1' },
    v4: { through: 'medium', mediumId: 'n2' },
  });
  const grid = plan.rack.shelves[0]?.trays[0]?.grid;
  if (!grid) throw new Error('the sample has changed');
  const litres = (6 * Math.PI * (grid.potDiameterMm / 2) ** 2 * grid.potHeightMm) / 1e6;
  for (const { what } of listOf(plan).media) {
    expect(what).toMatch(/^6 pots, [\d.]+ L filled loosely$/);
    expect(Number(/, ([\d.]+) L/.exec(what)?.[1])).toBeCloseTo(litres, 1);
  }
  expect(listOf(plan).media.map(({ place }) => place)).toEqual(['bark', 'clay']);
});

test('nothing before there is a draw, and nothing for what the plants bring with them', () => {
  const plan = withSettings(drawnWithWater(), { v2: { through: 'light', dimming: 0.5 } });
  expect(setupListOf({ ...plan, layout: null })).toBeNull();
  const cultivars = withFactor(drawnWithWater(), 'f2', { appliedThrough: 'plant' });
  expect(listOf(cultivars)).toEqual({ lamps: [], water: [], media: [], pots: [] });
});
