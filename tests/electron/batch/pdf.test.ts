import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test, vi } from 'vitest';
import { htmlToPdf } from '../../../electron/batch/pdf';
import { tempFolder } from '../temp-folder';

afterEach(() => void vi.unstubAllEnvs());

// ISO 216: A4 is 210 × 297 mm; ANSI/ASME Y14.1: Letter is 8.5 × 11 in. 72 points an inch.
const a4 = [(210 / 25.4) * 72, (297 / 25.4) * 72] as const;
const letter = [8.5 * 72, 11 * 72] as const;

test.each([
  ['A4 portrait', a4[0], a4[1]],
  ['A4 landscape', a4[1], a4[0]],
  ['Letter portrait', letter[0], letter[1]],
  ['Letter landscape', letter[1], letter[0]],
])('a document of %s is printed on pages of that size', async (size, width, height) => {
  const file = join(await tempFolder(), 'chart.pdf');
  const html = `<!doctype html><style>@page{size:${size};margin:10mm} p+p{break-before:page}</style><p>one<p>two`;
  expect(await htmlToPdf(html, file)).toBe(true);
  const info = execFileSync('pdfinfo', [file], { encoding: 'utf8' });
  expect(info).toMatch(/^Pages: +2$/m);
  const [, w, h] = /^Page size: +([\d.]+) x ([\d.]+) pts/m.exec(info) ?? [];
  expect(Math.abs(Number(w) - width)).toBeLessThan(1);
  expect(Math.abs(Number(h) - height)).toBeLessThan(1);
});

test('without a browser nothing is written, and it says so', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const file = join(await tempFolder(), 'chart.pdf');
  expect(await htmlToPdf('<p>chart', file)).toBe(false);
  expect(existsSync(file)).toBe(false);
});
