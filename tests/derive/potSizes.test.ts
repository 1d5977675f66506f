import { expect, it } from 'vitest';
import { sceneOf } from '../../renderer/canvas/plane/scene';
import { noticesOf, planAsTreated } from '../../renderer/derive';
import { defaultOptions, printed } from '../../renderer/print';
import type { NoticeKind } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { drawnWithWater, withSettings } from '../engine/treated/plans';

/** Bark in pots as drawn, 100 mm across at a pitch of 120; clay, every other pot, in others by hand. */
function repotted(size: { potDiameterMm?: number; potHeightMm?: number }): Plan {
  return withSettings(drawnWithWater(), { v4: { through: 'hand', ...size } });
}
const kinds = (plan: Plan): NoticeKind[] => noticesOf(plan).map(({ kind }) => kind);
const told = (plan: Plan, kind: NoticeKind) => noticesOf(plan).find((one) => one.kind === kind);

it('draws each pot of the rack as treated in its own size, from above and in front', () => {
  const { rack } = planAsTreated(repotted({ potDiameterMm: 80, potHeightMm: 60 }));
  const sizes = (view: 'above' | 'front') =>
    sceneOf(rack, view, 's1').pots.flatMap(({ ref, halfWidth, halfHeight }) =>
      ref.startsWith('pot:t1:1') ? [[ref, halfWidth, halfHeight]] : [],
    );
  const [first = 0] = [rack.shelves[0]?.trays[0]?.grid?.potHeightMm];
  expect(sizes('above')).toEqual([
    ['pot:t1:1:1', 50, 50],
    ['pot:t1:1:2', 40, 40],
    ['pot:t1:1:3', 50, 50],
  ]);
  expect(sizes('front').reverse()).toEqual([
    ['pot:t1:1:1', 50, first / 2],
    ['pot:t1:1:2', 40, 30],
    ['pot:t1:1:3', 50, first / 2],
  ]);
});

it('prints charts with those sizes, and blinded ones without', () => {
  const plan = repotted({ potDiameterMm: 80 });
  const radii = (blinded: boolean) => {
    const html = printed(plan, 'tray-charts', { ...defaultOptions('A4'), blinded })?.html ?? '';
    return ['A1', 'A2'].map((hole) => {
      const [, radius] = new RegExp(`data-pot="1A-${hole}"[^]*? r="([0-9.]+)"`).exec(html) ?? [];
      return Number(radius);
    });
  };
  const [bark = 0, clay = 0] = radii(false);
  expect(clay / bark).toBeCloseTo(0.8, 2);
  const [one, other] = radii(true);
  expect(other).toBe(one);
});

it('sees pots that stand in each other, and none that just touch', () => {
  expect(told(repotted({ potDiameterMm: 141 }), 'pots-overlap')?.text).toBe(
    'Pots 1A-A1 and 1A-A2 are 100 mm and 141 mm across but only 120 mm apart, centre to centre.',
  );
  expect(kinds(repotted({ potDiameterMm: 140 }))).not.toContain('pots-overlap');
});

it('sees pots that reach a lamp, and none that end below it', () => {
  const lampMm = drawnWithWater().rack.shelves[0]?.lamps[0]?.zMm ?? NaN;
  expect(told(repotted({ potHeightMm: lampMm }), 'canopy-reaches-lamp')?.text).toMatch(
    /but its tallest pots are \d+ mm high\.$/,
  );
  expect(kinds(repotted({ potHeightMm: lampMm - 1 }))).not.toContain('canopy-reaches-lamp');
});

it('holds the water against the pot that it wets first, whichever is the first of the tray', () => {
  const notice = told(repotted({ potHeightMm: 20 }), 'pot-rim-wet');
  expect(notice?.text).toMatch(/^At pot 1A-\w\d the water comes to .*, and that pot is 20 mm high/);
  expect(kinds(drawnWithWater())).not.toContain('pot-rim-wet');
});
