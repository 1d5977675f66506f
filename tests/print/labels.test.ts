import { expect, test } from 'vitest';
import { printed, defaultOptions, labelPresets } from '../../renderer/print';
import {
  cellAt,
  geometryProblem,
  printableInset,
  restMm,
  type LabelGeometry,
} from '../../renderer/print/labels/geometry';
import { symbolOf } from '../../renderer/print/labels/symbol';
import { paperMm, SAFE_MM } from '../../renderer/print/paper';
import { awkwardPlans } from './support/awkwardPlans';

// tests/reference/trade-facts.md §8.2: paper, columns × rows, label, gaps, side and top margin.
test.each([
  ['A4', 3, 8, 70, 36, 0, 0, 0, 4.5],
  ['A4', 3, 7, 63.5, 38.1, 2.5, 0, 7.25, 15.15],
  ['A4', 2, 4, 99.1, 67.7, 2.5, 0, 4.65, 13.1],
  ['A4', 5, 13, 38.1, 21.2, 2.5, 0, 4.75, 10.7],
  ['A4', 4, 10, 45, 25, 4, 2, 9, 14.5],
  ['Letter', 3, 10, 66.675, 25.4, 3.175, 0, 4.7625, 12.7],
  ['Letter', 4, 20, 44.45, 12.7, 7.62, 0, 7.62, 12.7],
  ['Letter', 2, 5, 101.6, 50.8, 4.7625, 0, 3.96875, 12.7],
] as const)(
  'a sheet of %s with %i × %i labels closes to 1e-9 with the margins of the table',
  (paper, columns, rows, widthMm, heightMm, gapXMm, gapYMm, side, top) => {
    const preset = labelPresets.find(
      ({ paper: p, geometry: g }) =>
        p === paper && g.columns === columns && g.rows === rows && g.widthMm === widthMm,
    );
    expect(preset?.geometry).toMatchObject({ heightMm, gapXMm, gapYMm });
    const geometry = preset?.geometry as LabelGeometry;
    expect(Math.abs(geometry.leftMm - side)).toBeLessThan(1e-9);
    expect(Math.abs(geometry.topMm - top)).toBeLessThan(1e-9);
    const rest = restMm(geometry, paper);
    expect(Math.abs(rest.right - geometry.leftMm)).toBeLessThan(1e-9);
    expect(Math.abs(rest.bottom - geometry.topMm)).toBeLessThan(1e-9);
  },
);

test('every preset keeps print inside its labels and 5 mm off the edge of the paper', () => {
  for (const { geometry, paper } of labelPresets) {
    expect(geometryProblem(geometry, paper)).toBeNull();
    const inset = printableInset(geometry, paper);
    const last = cellAt(geometry, geometry.columns * geometry.rows - 1);
    const first = cellAt(geometry, 0);
    expect(first.x + inset.x).toBeGreaterThanOrEqual(SAFE_MM - 1e-9);
    expect(first.y + inset.y).toBeGreaterThanOrEqual(SAFE_MM - 1e-9);
    expect(last.x + inset.x + inset.width).toBeLessThanOrEqual(
      paperMm[paper].width - SAFE_MM + 1e-9,
    );
    expect(last.y + inset.y + inset.height).toBeLessThanOrEqual(
      paperMm[paper].height - SAFE_MM + 1e-9,
    );
    expect(Math.min(inset.x, inset.y)).toBeGreaterThanOrEqual(2);
  }
});

const geometry = defaultOptions('A4').labels.geometry;
test.each([
  [{ columns: 0 }, 'labels, columns: found 0; a whole number from 1 to 100 is expected'],
  [{ heightMm: 4 }, 'labels, height: found 4 mm; at least 10 mm is expected'],
  [{ gapXMm: -1 }, 'labels, gap across: found -1 mm; 0 mm or more is expected'],
  [
    { widthMm: 70 },
    'labels: the grid is 10 mm wider than A4; a grid that fits the paper is expected',
  ],
])('impossible sheets are refused: %o', (part, message) => {
  expect(geometryProblem({ ...geometry, ...part }, 'A4')).toBe(message);
});

function labelled(startCell: number) {
  const plan = awkwardPlans()['thirty'];
  if (!plan) throw new Error('the plan of thirty treatments is missing');
  const options = defaultOptions('A4');
  return printed(plan, 'labels', { ...options, labels: { ...options.labels, startCell } });
}

test('a begun sheet is used from the chosen cell on', () => {
  // 42 pots on sheets of 24: 24 + 18; from cell 20: 5 + 24 + 13.
  expect(labelled(1)?.pages).toBe(2);
  expect(labelled(20)?.pages).toBe(3);
  const codes = (html: string | undefined) => (html ?? '').match(/>1A-[A-F][0-9]</g) ?? [];
  expect(codes(labelled(20)?.html)).toEqual(codes(labelled(1)?.html));
  expect(() => labelled(25)).toThrow(
    'labels, first cell: found 25; a whole number from 1 to 24 is expected',
  );
});

test('each pot gets one label, in walking order', () => {
  const codes = (labelled(1)?.html.match(/>1A-[A-F][0-9]</g) ?? []).map((s) => s.slice(1, -1));
  // Rows from the front, every second one backwards (six rows of seven).
  expect(codes).toHaveLength(42);
  expect(codes.slice(0, 9)).toEqual([
    ...['1A-A1', '1A-A2', '1A-A3', '1A-A4', '1A-A5', '1A-A6', '1A-A7'],
    ...['1A-B7', '1A-B6'],
  ]);
});

test('the code for cameras says the pot code that is printed beside it', () => {
  const plan = awkwardPlans()['thirty'];
  if (!plan) throw new Error('the plan of thirty treatments is missing');
  const options = defaultOptions('A4');
  for (const kind of ['qr', 'data-matrix'] as const) {
    const labels = { ...options.labels, symbol: kind };
    const html = printed(plan, 'labels', { ...options, labels }, 1)?.html ?? '';
    const fields = html.match(/ d="[^"]*" fill="#000" fill-rule="evenodd"/g) ?? [];
    const printedCodes = (html.match(/>1A-[A-F][0-9]</g) ?? []).map((s) => s.slice(1, -1));
    expect(fields).toHaveLength(printedCodes.length);
    expect(fields.length).toBeGreaterThan(0);
    expect(fields).toEqual(
      printedCodes.map(
        (code) => ` d="${symbolOf(kind, code).path}" fill="#000" fill-rule="evenodd"`,
      ),
    );
  }
});
