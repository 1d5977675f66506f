import { expect, test } from 'vitest';
import { pageSizeOf } from '../../electron/services/window/pageSize';
import { htmlDocument } from '../../renderer/print/document';
import type { Frame } from '../../renderer/print/frame';

// ISO 216: A4 is 210 × 297 mm; ANSI/ASME Y14.1: Letter is 8.5 × 11 in, 215.9 × 279.4 mm.
test.each([
  ['@page { size: 210mm 297mm; margin: 0; }', 210_000, 297_000, false],
  ['@page a { size: 297mm 210mm; } @page b { size: 210mm 297mm }', 210_000, 297_000, true],
  ['p{color:red}@page x{margin:5mm;size:215.9mm 279.4mm}', 215_900, 279_400, false],
  ['@page { size: 279.4mm 215.9mm; }', 215_900, 279_400, true],
  // Off a roll, its width is the roll's.
  ['@page { size: 62mm 29mm; }', 62_000, 29_000, false],
])('the printer is told the paper of the document: %s', (style, width, height, landscape) => {
  expect(pageSizeOf(`<style>${style}</style>`)).toEqual({ pageSize: { width, height }, landscape });
});

test.each(['', 'size: 210mm 297mm', '@page { margin: 0 }', '@page { size: 0mm 0mm }', '</style>'])(
  'the printer keeps its own paper where the document names none: %j',
  (style) =>
    expect(pageSizeOf(`<style>${style}</style>`)).toEqual({ usePrinterDefaultPageSize: true }),
);

test('a page of ours names its paper, and what a person has written is no style', () => {
  const sheet = { paper: 'Letter', wide: true } as const;
  const page = { sheet, heading: '', whole: true, body: () => 'a' };
  const frame = { title: '@page { size: 1mm 1mm; }' } as Frame;
  expect(pageSizeOf(htmlDocument('', frame, [page]))).toEqual({
    pageSize: { width: 215_900, height: 279_400 },
    landscape: true,
  });
});
