import { expect, test } from 'vitest';
import { moduleMm, symbolOf, type Symbol } from '../../renderer/print/labels/symbol';
import { readMatrix, readQr, type GreySquare } from './support/decoders';

/** Dark modules, by the even-odd rule at the middle of each. */
function fieldOf(symbol: Symbol): string[] {
  const outlines = symbol.path
    .split('Z')
    .filter(Boolean)
    .map((outline) =>
      outline
        .slice(1)
        .split(/[L ]/)
        .map((point) => point.split(',').map(Number)),
    );
  const dark = (x: number, y: number) =>
    outlines
      .flatMap((points) =>
        points.map((from, i) => {
          const [x1 = 0, y1 = 0] = from;
          const [x2 = 0, y2 = 0] = points[(i + 1) % points.length] ?? [];
          const crosses = y1 > y !== y2 > y;
          return crosses && x < x1 + ((y - y1) / (y2 - y1)) * (x2 - x1);
        }),
      )
      .filter(Boolean).length %
      2 ===
    1;
  return Array.from({ length: symbol.modules }, (_, r) =>
    Array.from({ length: symbol.modules }, (_, c) => (dark(c + 0.5, r + 0.5) ? '1' : '0')).join(''),
  );
}

test('Data Matrix: the symbol of 123456 in the annex of ISO/IEC 16022', () => {
  expect(fieldOf(symbolOf('data-matrix', '123456'))).toEqual([
    '1010101010',
    '1100101101',
    '1100000100',
    '1100011101',
    '1100001000',
    '1000001111',
    '1110110000',
    '1111011001',
    '1001110100',
    '1111111111',
  ]);
});

test('QR: a pot id of at most 14 signs takes version 1, 21 modules (trade-facts §8.3, M)', () => {
  const symbol = symbolOf('qr', 't11:10:20');
  expect(symbol).toMatchObject({ modules: 21, quiet: 4 });
  const field = fieldOf(symbol);
  // Finder pattern of ISO/IEC 18004 in three corners, none in the fourth.
  const finder = ['1111111', '1000001', '1011101', '1011101', '1011101', '1000001', '1111111'];
  const corner = (row: number, column: number) =>
    field.slice(row, row + 7).map((line) => line.slice(column, column + 7));
  expect(corner(0, 0)).toEqual(finder);
  expect(corner(0, 14)).toEqual(finder);
  expect(corner(14, 0)).toEqual(finder);
  expect(corner(14, 14)).not.toEqual(finder);
  expect(symbolOf('qr', 'x'.repeat(15)).modules).toBe(25);
});

/** The field as a picture in grey, each module six pixels wide, with its quiet zone. */
function pictureOf(symbol: Symbol): GreySquare {
  const scale = 6;
  const side = (symbol.modules + 2 * symbol.quiet) * scale;
  const grey = new Uint8ClampedArray(side * side).fill(255);
  for (const [r, line] of fieldOf(symbol).entries()) {
    for (const [c, module] of [...line].entries()) {
      if (module === '0') continue;
      for (let y = 0; y < scale; y++) {
        const from = ((r + symbol.quiet) * scale + y) * side + (c + symbol.quiet) * scale;
        grey.fill(0, from, from + scale);
      }
    }
  }
  return { side, grey };
}

test('decoders that others wrote read every pot code again, short and long', () => {
  for (const id of ['1A-A1', '2B-C7', '12AB-Z20', '99ZZ-GR200']) {
    expect(readMatrix(pictureOf(symbolOf('data-matrix', id)))).toBe(id);
    expect(readQr(pictureOf(symbolOf('qr', id)))).toBe(id);
  }
});

test('modules are whole dots of 300 an inch and at least 0.4 mm (trade-facts §8.3)', () => {
  const symbol = symbolOf('qr', 't1:1:1');
  const dots = (side: number) => (moduleMm(symbol, side) ?? 0) / (25.4 / 300);
  // 29 modules with the quiet zone: five dots each need 12.277 mm.
  expect(moduleMm(symbol, 12.2)).toBeNull();
  expect(dots(12.3)).toBeCloseTo(5, 9);
  expect(dots(14.8)).toBeCloseTo(6, 9);
  expect(moduleMm(symbol, 12.3)).toBeGreaterThan(0.4);
});
