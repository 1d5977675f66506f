import fc from 'fast-check';
import { expect, test } from 'vitest';
import { potsOfRack } from '../../renderer/engine/geometry';
import { defaultOptions, printed, type PrintableName } from '../../renderer/print';
import type { Plan } from '../../shared-types/plan';
import type { PotGrid } from '../../shared-types/rack';
import { factor, planWith, shelfWith } from './support/awkwardPlans';

const feeds = [factor('f1', 'feed', ['weak', 'strong'])];

/** Where a pot is drawn whole: its disc on the drawing that it stands in, mm. */
interface Drawn {
  code: string;
  inside: boolean;
}

function drawnPots(html: string): Drawn[] {
  return html.split('<svg ').flatMap((svg) => {
    const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
    const pots = svg.matchAll(
      /<g data-pot="([^"]+)"><circle cx="(-?[\d.]+)" cy="(-?[\d.]+)" r="([\d.]+)"/g,
    );
    return [...pots].map(([, code = '', x, y, r]): Drawn => {
      const within = (at: number, most: number) =>
        at - Number(r) >= -1e-2 && at + Number(r) <= most + 1e-2;
      const inside = within(Number(x), Number(width)) && within(Number(y), Number(height));
      return { code, inside };
    });
  });
}

function html(plan: Plan, name: PrintableName, behind: boolean): string {
  return printed(plan, name, { ...defaultOptions('A4'), behind })?.html ?? '';
}

const codesOf = (plan: Plan) => potsOfRack(plan.rack).map(({ code }) => code);
const sorted = (codes: readonly string[]) => [...codes].sort();

const size = (min: number, max: number) => fc.integer({ min, max });
const trayArb = fc.record({
  xMm: size(-100, 400),
  yMm: size(-100, 300),
  widthMm: size(60, 1300),
  depthMm: size(60, 700),
  grid: fc.record({
    pattern: fc.constantFrom<PotGrid['pattern']>('square', 'staggered'),
    rows: size(1, 9),
    columns: size(1, 12),
    pitchXMm: size(12, 160),
    pitchYMm: size(12, 160),
    potDiameterMm: size(10, 260),
    firstXMm: size(-150, 200),
    firstYMm: size(-150, 200),
    guardRing: fc.boolean(),
    empty: fc.constantFrom<string[]>(['1:1'], ['2:3', '4:4'], []),
  }),
});
const planArb = fc
  .array(fc.array(trayArb, { minLength: 1, maxLength: 2 }), { minLength: 1, maxLength: 2 })
  .map((shelves) =>
    planWith(
      'Any rack',
      shelves.map((trays, i) => shelfWith(i + 1, { widthMm: 900, depthMm: 500 }, trays)),
      feeds,
    ),
  );

test('over a rack’s charts every pot is drawn whole once, or the page names it', () => {
  fc.assert(
    fc.property(planArb, fc.boolean(), (plan, behind) => {
      const all = codesOf(plan);
      for (const name of ['tray-charts', 'true-size'] as const) {
        const page = html(plan, name, behind);
        const drawn = drawnPots(page);
        const named = [...page.matchAll(/Not shown at true size: ([^<]+)\.</g)].flatMap(
          ([, list = '']) => list.split(', '),
        );
        expect(drawn.filter(({ inside }) => !inside)).toEqual([]);
        expect(sorted([...drawn.map(({ code }) => code), ...named])).toEqual(sorted(all));
        if (name === 'tray-charts') expect(named).toEqual([]);
      }
      for (const name of ['shelf-charts', 'rack-chart'] as const) {
        const drawn = drawnPots(html(plan, name, behind));
        expect(drawn.filter(({ inside }) => !inside)).toEqual([]);
        const codes = drawn.map(({ code }) => code);
        // A tray is drawn with all its pots, or as its code alone, which sends to its own chart.
        const trays = new Set(codes.map((code) => code.slice(0, code.indexOf('-'))));
        const ofThese = all.filter((code) => trays.has(code.slice(0, code.indexOf('-'))));
        expect(sorted(codes)).toEqual(sorted(ofThese));
      }
    }),
    { numRuns: 12, seed: 11 },
  );
}, 120_000);

function overhanging(firstXMm: number): Plan {
  const grid = {
    pattern: 'square' as const,
    rows: 2,
    columns: 3,
    pitchXMm: 100,
    pitchYMm: 100,
    potDiameterMm: 80,
    firstXMm,
    firstYMm: 50,
    guardRing: false,
  };
  const tray = { xMm: 20, yMm: 20, widthMm: 300, depthMm: 200, grid };
  return planWith('A rack', [shelfWith(1, { widthMm: 700, depthMm: 300 }, [tray])], feeds);
}

test('a pot over its tray’s side makes the chart wider, one that touches it does not', () => {
  const scaleOf = (plan: Plan) => /drawn 1 : [\d.]+/.exec(html(plan, 'shelf-charts', false))?.[0];
  // 40 mm of pot from the first centre: at 40 mm it touches the side, at −130 it reaches 170 mm out,
  // which is 150 mm over the shelf's edge.
  expect(scaleOf(overhanging(40))).toBe(scaleOf(overhanging(60)));
  expect(scaleOf(overhanging(-130))).not.toBe(scaleOf(overhanging(40)));
  expect(drawnPots(html(overhanging(-130), 'tray-charts', false))).toHaveLength(6);
});

test('pots wider than the paper are named in place of their sheets, the other trays are printed', () => {
  const tray = (potDiameterMm: number, yMm: number) => ({
    xMm: 0,
    yMm,
    widthMm: 500,
    depthMm: 300,
    grid: { rows: 1, columns: 2, pitchXMm: 250, potDiameterMm, firstXMm: 125, firstYMm: 150 },
  });
  const shelf = shelfWith(1, { widthMm: 600, depthMm: 700 }, [tray(230, 0), tray(100, 320)]);
  const plan = planWith('Wide pots', [shelf], feeds);
  const page = html(plan, 'true-size', false);
  expect(page).toContain(
    'Pots of 230 mm are wider than the room on A4. Use the chart of the whole tray.',
  );
  expect(page).toContain('Not shown at true size: 1A-A1, 1A-A2.');
  expect(sorted(drawnPots(page).map(({ code }) => code))).toEqual(['1B-A1', '1B-A2']);
  const inches: Plan = { ...plan, display: { ...plan.display, lengths: 'imperial' } };
  expect(html(inches, 'true-size', false)).toContain('Pots of 9.06 in are wider');
});
