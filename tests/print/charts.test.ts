import { expect, test } from 'vitest';
import { defaultOptions, printed, type PrintableName } from '../../renderer/print';
import { discPattern } from '../../renderer/print/discPattern';
import { ptToMm } from '../../renderer/print/text';
import { markSizeMm } from '../../renderer/print/treatmentMark';
import { treatmentPatterns } from '../../renderer/ui/colour/palette';
import { factor, planWith, shelfWith } from './support/awkwardPlans';

/** A tray of three rows of four pots, 80 mm wide, 90 mm apart. */
const grid = { rows: 3, columns: 4, pitchXMm: 90, pitchYMm: 90, potDiameterMm: 80 };
const tray = {
  xMm: 0,
  yMm: 0,
  widthMm: 360,
  depthMm: 270,
  grid: { ...grid, firstXMm: 45, firstYMm: 45 },
};
const plan = planWith(
  'A tray of large pots',
  [shelfWith(1, { widthMm: 360, depthMm: 270 }, [tray])],
  [factor('f1', 'feed', ['weak', 'strong'])],
);

function htmlOf(name: PrintableName, behind = false): string {
  return printed(plan, name, { ...defaultOptions('A4'), behind })?.html ?? '';
}

test.each(['tray-charts', 'shelf-charts', 'rack-chart', 'true-size'] as const)(
  'all four sides are named on %s, from the front and from behind',
  (name) => {
    for (const behind of [false, true]) {
      const html = htmlOf(name, behind);
      const pages = html
        .split('<section ')
        .filter((page) => page.includes('aria-label="Planting chart"')).length;
      for (const side of ['FRONT', 'BACK', 'LEFT', 'RIGHT']) {
        const named = html.match(new RegExp(`>${side}(?: – you stand here)?<`, 'g')) ?? [];
        expect(named, `${side}, behind: ${behind}`).toHaveLength(pages);
      }
    }
    const turned = (behind: boolean) =>
      [...htmlOf(name, behind).matchAll(/translate\(([\d.]+) [\d.]+\) rotate[^>]*>(\w+)</g)]
        .slice(0, 2)
        .sort((a, b) => Number(a[1]) - Number(b[1]))
        .map(([, , side]) => side);
    expect(turned(false)).toEqual(['LEFT', 'RIGHT']);
    expect(turned(true)).toEqual(['RIGHT', 'LEFT']);
  },
);

test('codes in pots are 12 pt and more with boxes of 5 mm, inside the pot, where they fit', () => {
  const pots = htmlOf('tray-charts').match(/<g data-pot=.*?<\/g>/gs) ?? [];
  expect(pots).toHaveLength(12);
  for (const pot of pots) {
    const [, cx, cy, r] = (/cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"/.exec(pot) ?? []).map(Number);
    const code = Number(/font-size="([\d.]+)">[A-C]\d</.exec(pot)?.[1]);
    const box = /<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="[\d.]+" fill/.exec(pot);
    const [, x = NaN, y = NaN, side = NaN] = (box ?? []).map(Number);
    expect(code).toBeGreaterThanOrEqual(ptToMm(12) - 0.001);
    expect(side).toBeGreaterThanOrEqual(5);
    const corner = Math.hypot(x + side - (cx ?? NaN), y + side - (cy ?? NaN));
    expect(corner).toBeLessThanOrEqual(r ?? NaN);
  }
});

test('who planted, and when, is written on charts and for each tray of the order of work', () => {
  for (const name of ['tray-charts', 'shelf-charts', 'rack-chart', 'order-of-work'] as const) {
    expect(htmlOf(name).match(/>Planted by</g), name).toHaveLength(1);
    expect(htmlOf(name), name).toContain('>Date<');
  }
  expect(htmlOf('true-size')).not.toContain('Planted by');
});

test('in a small disc a letter of 8 pt and more leaves room in which the pattern shows', () => {
  for (const radius of [3, 3.5, 4]) {
    const size = markSizeMm(radius, 1);
    expect(size).toBeGreaterThanOrEqual(ptToMm(8) - 1e-9);
    // Beside the white field of the letter, on each side, a quarter of the radius and more.
    expect(radius - (1.08 * size) / 2).toBeGreaterThanOrEqual(radius * 0.25);
    for (const name of treatmentPatterns) {
      const { d } = discPattern(name, radius);
      if (name === 'plain') continue;
      const starts = [...d.matchAll(/M(-?[\d.]+),(-?[\d.]+)/g)];
      const seen = starts.filter(([, x, y]) => Math.hypot(Number(x), Number(y)) > 0.6 * size);
      expect(seen.length, `${name} at ${radius}`).toBeGreaterThanOrEqual(3);
    }
    // Lines 1.3 mm apart do not run together in print.
    const ys = [...discPattern('level', radius).d.matchAll(/M-?[\d.]+,(-?[\d.]+)/g)];
    const gaps = ys.slice(1).map(([, y], i) => Number(y) - Number(ys[i]?.[1]));
    for (const gap of gaps) expect(gap).toBeGreaterThanOrEqual(1.3 - 1e-9);
  }
  // Where there is room, at arm's length.
  expect(markSizeMm(4.4, 1)).toBeGreaterThanOrEqual(ptToMm(12) - 1e-9);
});

/** The plan with a block for each pot as told. */
function blocked(of: typeof plan, block: (row: number, column: number) => string): typeof plan {
  if (!of.layout) throw new Error('no layout');
  const assignments = of.layout.assignments.map((a) => {
    const [, row, column] = a.potId.split(':').map(Number);
    return { ...a, block: block(row ?? 0, column ?? 0) };
  });
  return { ...of, layout: { ...of.layout, assignments } };
}

test('borders of blocks stand midway between pots, and the key says what they are', () => {
  const chart = (of: typeof plan) => printed(of, 'tray-charts', defaultOptions('A4'))?.html ?? '';
  const sides = (html: string) =>
    (/class="blocks" d="([^"]*)"/.exec(html)?.[1]?.match(/M[^M]+/g) ?? []).map((side) => {
      const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = (side.match(/[\d.]+/g) ?? []).map(Number);
      return { x: (x1 + x2) / 2, y: (y1 + y2) / 2, upright: x1 === x2 };
    });
  // Left and right halves: one upright side for each of three rows.
  const halves = chart(blocked(plan, (_, column) => (column <= 2 ? 'left' : 'right')));
  expect(halves).toContain('>border of a block<');
  const centre = (code: string) => {
    const at = new RegExp(`data-pot="1A-${code}".*?cx="([\\d.]+)" cy="([\\d.]+)"`, 's').exec(
      halves,
    );
    return { x: Number(at?.[1]), y: Number(at?.[2]) };
  };
  expect(sides(halves)).toHaveLength(3);
  for (const [i, row] of ['A', 'B', 'C'].entries()) {
    const side = sides(halves)[i];
    expect(side?.upright).toBe(true);
    expect(side?.x).toBeCloseTo((centre(`${row}2`).x + centre(`${row}3`).x) / 2, 2);
    expect(side?.y).toBeCloseTo(centre(`${row}2`).y, 2);
  }
  // Rows: a level side for each of four pots; one block alone has no border.
  const rows = sides(chart(blocked(plan, (row) => (row === 1 ? 'front' : 'rest'))));
  expect(rows.map(({ upright }) => upright)).toEqual([false, false, false, false]);
  expect(chart(plan)).not.toContain('border of a block');
});
