import { expect, test } from 'vitest';
import {
  printables,
  printed,
  defaultOptions,
  labelPresets,
  labelsPerSheet,
  presetName,
  symbolProposed,
} from '../../renderer/print';
import {
  cellAt,
  geometryProblem,
  printableInset,
  restMm,
  type LabelGeometry,
} from '../../renderer/print/labels/geometry';
import { symbolOf } from '../../renderer/print/labels/symbol';
import { paperMm, SAFE_MM } from '../../renderer/print/paper';
import type { Plan } from '../../shared-types/plan';
import { seenFrom } from '../../renderer/document/runs';
import { drawnPlan } from '../builders/samplePlan';
import { twoRuns } from '../builders/twoRuns';
import { awkwardPlans, factor, planWith, shelfWith } from './support/awkwardPlans';

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

test('the code to scan says the pot code that is printed beside it', () => {
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

test('with several runs every label and page says its run, and so does the code to scan', () => {
  const second = twoRuns();
  const options = defaultOptions('A4');
  for (const [plan, number] of [
    [second, 2],
    [seenFrom(second, 'run0'), 1],
  ] as const) {
    for (const { id, paper, geometry } of labelPresets) {
      const labels = { ...options.labels, geometry };
      const html = printed(plan, 'labels', { ...options, paper, labels })?.html ?? '';
      const codes = (html.match(/>[12]A-[AB][1-3]</g) ?? []).map((s) => s.slice(1, -1));
      expect(codes, id).toHaveLength(12);
      expect(html.split(`>Run ${number}<`).length - 1, id).toBe(12);
      const fields = html.match(/ d="[^"]*" fill="#000" fill-rule="evenodd"/g) ?? [];
      const path = (code: string) => symbolOf('qr', `R${number}-${code}`).path;
      if (fields.length === 0) continue;
      expect(fields, id).toEqual(
        codes.map((code) => ` d="${path(code)}" fill="#000" fill-rule="evenodd"`),
      );
    }
    for (const { name } of printables(plan, { blinded: true })) {
      const made = printed(plan, name, { ...options, blinded: true });
      if (!made) continue;
      expect(made.html.split(`Run ${number}, seed`).length - 1, name).toBeGreaterThanOrEqual(
        made.pages,
      );
    }
  }
  const once = printed(drawnPlan(), 'labels', options)?.html ?? '';
  expect(once).not.toMatch(/Run \d/);
  expect(once).toContain(symbolOf('qr', '1A-A1').path);
});

test('Data Matrix is proposed on labels that have room for it and none for a QR code', () => {
  const plan = potsInOneTray(3, 3);
  const { geometry: plain } = defaultOptions('A4').labels;
  const proposed = (heightMm: number, symbol: 'qr' | 'none' = 'qr') => {
    const labels = { ...defaultOptions('A4').labels, symbol, geometry: { ...plain, heightMm } };
    return symbolProposed(plan, { ...defaultOptions('A4'), labels });
  };
  // QR of version 1: 21 + 8 modules of 5 dots at 300 dpi are 12.3 mm; Data Matrix: 12 + 2 are 5.9 mm.
  const low = 12;
  expect(proposed(low)).toBe('data-matrix');
  expect(proposed(low, 'none')).toBeNull();
  expect(proposed(25)).toBeNull();
});

test('a code with its run needs no larger symbol than one without', () => {
  expect(symbolOf('qr', 'R2-12B-H12').modules).toBe(symbolOf('qr', '12B-H12').modules);
});

function potsInOneTray(columns: number, rows: number): Plan {
  const grid = { rows, columns, pitchXMm: 20, pitchYMm: 20, potDiameterMm: 18 };
  const tray = { xMm: 0, yMm: 0, widthMm: 20 * columns, depthMm: 20 * rows };
  const shelf = shelfWith(1, { widthMm: tray.widthMm, depthMm: tray.depthMm }, [
    { ...tray, grid: { ...grid, firstXMm: 10, firstYMm: 10, guardRing: false } },
  ]);
  return planWith('A tray', [shelf], [factor('f1', 'feed', ['weak', 'strong'])]);
}

test.each(labelPresets.map((preset) => [preset.id, preset] as const))(
  'a sheet of %s gives as many labels as it has, each with title, seed and page somewhere',
  (_, { paper, geometry }) => {
    const cells = geometry.columns * geometry.rows;
    expect(labelsPerSheet(geometry, paper)).toBe(cells);
    const options = defaultOptions(paper);
    const sheets = (plan: Plan) =>
      printed(plan, 'labels', {
        ...options,
        labels: { ...options.labels, geometry, symbol: 'none' },
      });
    const full = sheets(potsInOneTray(geometry.columns, geometry.rows));
    expect(full?.pages).toBe(1);
    expect(new Set(full?.html.match(/>1A-[A-Z]+[0-9]+</g) ?? []).size).toBe(cells);
    for (const words of ['A tray', 'three owls', '2026-03-01']) expect(full?.html).toContain(words);
    expect(full?.html.toLowerCase()).toContain('page 1 of 1');
    expect(sheets(potsInOneTray(geometry.columns, geometry.rows + 1))?.pages).toBe(2);
  },
);

test('labels too small for a line on a sheet without margin give one place to the title, and say so', () => {
  const small: LabelGeometry = { ...geometry, heightMm: 15, gapYMm: 0, topMm: 5, rows: 10 };
  expect(labelsPerSheet(small, 'A4')).toBe(29);
  expect(labelsPerSheet({ ...small, topMm: 9 }, 'A4')).toBe(30);
});

test('names and refusals of label sheets are in the units of the plan', () => {
  const preset = labelPresets.find(({ id }) => id === 'Letter-3x10-66.675x25.4');
  if (!preset) throw new Error('the preset is missing');
  // The trade's name of this sheet: 1 inch high, 2 5/8 inches wide.
  expect(presetName(preset, 'imperial')).toBe('3 × 10, 2.625 × 1 in');
  expect(presetName(preset, 'metric')).toBe('3 × 10, 66.675 × 25.4 mm');
  expect(geometryProblem({ ...geometry, heightMm: 5.08 }, 'A4', 'imperial')).toBe(
    'labels, height: found 0.2 in; at least 0.394 in is expected',
  );
});

test('the calibration page is read in the unit in which the shift is typed', () => {
  const base = potsInOneTray(3, 3);
  const page = (lengths: Plan['display']['lengths']) => {
    const plan = { ...base, display: { ...base.display, lengths } };
    const options = defaultOptions('Letter');
    const printer = { ...options.printer, scaleX: 0.98, shiftXMm: 2.54 };
    const html = printed(plan, 'calibration', { ...options, printer })?.html ?? '';
    const words = html.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
    // The marks of the first cross from left to right tell the step.
    const cross = /v[\d.]+(M[\d.]+,[\d.]+v2.4.*?)"/.exec(html)?.[1] ?? '';
    const xs = [...cross.matchAll(/M([\d.]+),[\d.]+v/g)].map(([, x]) => Number(x));
    const [, across, down] = /h([\d.]+)m0,-2v4M[\d.]+,[\d.]+h4m-2,0v([\d.]+)m/.exec(html) ?? [];
    return {
      words,
      bars: [Number(across), Number(down)],
      step: (xs[1] ?? NaN) - (xs[0] ?? NaN),
      marks: xs.length,
    };
  };
  const [metric, imperial] = [page('metric'), page('imperial')];
  expect(metric.words).toContain('A mark is 1 mm.');
  expect([metric.step, metric.marks]).toEqual([expect.closeTo(1, 2), 11]);
  expect(metric.words).toContain('scale 98 % across, 100 % down; shift 2.54 mm right, 0 mm down');
  expect(metric.words).toContain('They should be 100 mm long.');
  expect(imperial.words).toContain('A mark is 0.05 in.');
  expect([imperial.step, imperial.marks]).toEqual([expect.closeTo(0.05 * 25.4, 2), 11]);
  expect(imperial.words).toContain('shift 0.1 in right, 0 in down');
  expect(imperial.words).toContain('They should be 4 in long.');
  expect(imperial.words).not.toContain(' mm');
  // The page is drawn 1 / 0.98 as wide; the bars come out as a printer draws 100 mm and 4 inches.
  expect(metric.bars).toEqual([98, 100]);
  expect(imperial.bars).toEqual([expect.closeTo(101.6 * 0.98, 2), 101.6]);
});
