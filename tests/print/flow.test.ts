import { expect, test } from 'vitest';
import { newGrid, newTray, newShelf } from '../../renderer/document/new';
import { blocksToFit } from '../../renderer/print/charts/trueSize/blocksToFit';
import { packed } from '../../renderer/print/charts/trueSize/packed';
import { flowed } from '../../renderer/print/sheets/flow';

const column = { columns: 2, columnMm: 100, rowMm: 5 };
const tray = (rows: number, breaks: number[] = []) => ({ rows, breaks, headMm: 10, againMm: 10 });

test('lists of trays stand one under the other, whole where they fit, broken between rows of the tray', () => {
  // 10 + 30, 4 between, 10 + 30: the third needs 10 + 30 of the 16 that are left.
  expect(flowed([tray(6), tray(6), tray(6)], column)).toEqual([
    [
      { tray: 0, from: 0, to: 6, column: 0, topMm: 0 },
      { tray: 1, from: 0, to: 6, column: 0, topMm: 44 },
      { tray: 2, from: 0, to: 6, column: 1, topMm: 0 },
    ],
  ]);
  // 18 rows fill a column to the last millimetre; 19 do not.
  expect(flowed([tray(18)], column)[0]).toHaveLength(1);
  expect(flowed([tray(19, [6, 12])], column)[0]?.map(({ from, to }) => [from, to])).toEqual([
    [0, 12],
    [12, 19],
  ]);
  // Half a column is left: broken there. Less than a quarter: begun in the next.
  expect(flowed([tray(8), tray(16, [4, 8])], column)[0]?.map(({ to }) => to)).toEqual([8, 4, 16]);
  expect(flowed([tray(14), tray(16, [4, 8])], column)[0]?.map(({ to }) => to)).toEqual([14, 16]);
});

test('every row is listed once and in order, and nothing runs over its column', () => {
  const trays = [3, 40, 1, 7, 18, 19, 2].map((rows) => tray(rows, [1, 5, 9, 20, 33]));
  const seen = trays.map(() => 0);
  for (const placed of flowed(trays, column).flat()) {
    expect(placed.from).toBe(seen[placed.tray]);
    seen[placed.tray] = placed.to;
    expect(placed.topMm + 10 + (placed.to - placed.from) * 5).toBeLessThanOrEqual(100);
    expect(placed.column).toBeLessThan(2);
  }
  expect(seen).toEqual([3, 40, 1, 7, 18, 19, 2]);
});

test('blocks of whole pots leave out the gaps around them, and no pot', () => {
  const shelf = newShelf('s1', []);
  const grid = {
    ...newGrid(newTray('t1', shelf)),
    rows: 6,
    columns: 4,
    pitchXMm: 88,
    pitchYMm: 88,
    potDiameterMm: 80,
  };
  // Two pots need 80 + 88 = 168 mm; between their gaps it would be 176.
  const blocks = blocksToFit(grid, 80, { width: 168, depth: 168 }, () => true);
  expect(blocks.map(({ widthMm, holes }) => [widthMm, holes.size])).toEqual(
    Array.from({ length: 6 }, () => [168, 4]),
  );
  expect(blocksToFit(grid, 80, { width: 167.9, depth: 168 }, () => true)).toHaveLength(12);
  expect(blocksToFit(grid, 80, { width: 79, depth: 168 }, () => true)).toEqual([]);
  const staggered = { ...grid, pattern: 'staggered' as const };
  const all = blocksToFit(staggered, 80, { width: 200, depth: 300 }, (row) => row !== 2);
  expect(all.every(({ widthMm, depthMm }) => widthMm <= 200 && depthMm <= 300)).toBe(true);
  expect(all.flatMap(({ holes }) => [...holes]).sort()).toHaveLength(20);
});

test('rectangles share sheets without touching, and none is left out', () => {
  const sizes = Array.from({ length: 40 }, (_, i) => ({
    width: 20 + ((i * 37) % 60),
    height: 15 + ((i * 53) % 70),
  }));
  const room = { width: 170, height: 220 };
  const stands = packed(sizes, room);
  const area = sizes.reduce((sum, { width, height }) => sum + width * height, 0);
  const sheets = 1 + Math.max(...stands.map(({ sheet }) => sheet));
  expect(sheets).toBeLessThanOrEqual(Math.ceil((1.6 * area) / (room.width * room.height)));
  stands.forEach((a, i) => {
    const [size = { width: 0, height: 0 }] = [sizes[i]];
    expect(a.x + size.width).toBeLessThanOrEqual(room.width);
    expect(a.y + size.height).toBeLessThanOrEqual(room.height);
    stands.slice(i + 1).forEach((b, k) => {
      const other = sizes[i + 1 + k] ?? { width: 0, height: 0 };
      const apart =
        a.sheet !== b.sheet ||
        a.x + size.width <= b.x ||
        b.x + other.width <= a.x ||
        a.y + size.height <= b.y ||
        b.y + other.height <= a.y;
      expect(apart).toBe(true);
    });
  });
});
