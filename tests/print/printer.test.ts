import { expect, test } from 'vitest';
import { EXACT_PRINTER, fitCss, lostStripMm } from '../../renderer/print/printer';

test('a page is drawn larger by what the printer takes off, about its middle', () => {
  expect(fitCss(EXACT_PRINTER)).toBe('');
  expect(fitCss({ ...EXACT_PRINTER, shiftXMm: 2 })).toBe('');
  const css = fitCss({ ...EXACT_PRINTER, scaleX: 0.98 });
  // 100 mm drawn 102.0408 mm long and printed at 98 %.
  expect(css).toContain('scale(1.020408, 1)');
  expect(css).toContain('transform-origin: 50% 50%');
});

test('a printer that prints smaller loses a strip where it is wider than what is kept blank', () => {
  // At 96 % A4, 297 mm high, comes out 285.12 mm high: 5.94 mm are lost above and below.
  expect(lostStripMm('A4', { ...EXACT_PRINTER, scaleY: 0.96 })).toBeCloseTo(5.94, 9);
  // Across it is 210 mm: 4.2 mm, within the 5 mm that nothing is put on.
  expect(lostStripMm('A4', { ...EXACT_PRINTER, scaleX: 0.96 })).toBe(0);
  expect(lostStripMm('Letter', { ...EXACT_PRINTER, scaleX: 1.05, scaleY: 1.05 })).toBe(0);
});
