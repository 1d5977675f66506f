import { describe, expect, it } from 'vitest';
import { readSpectrum } from '../../../renderer/derive';

const rows = (separator: string, number: (value: number) => string) =>
  Array.from({ length: 81 }, (_, i) => {
    const nm = 380 + 5 * i;
    return `${nm}${separator}${number(nm === 555 ? 12.5 : 0.25)}`;
  });
const point = (value: number) => String(value);
const comma = (value: number) => String(value).replace('.', ',');
const factorOf = (text: string) => {
  const read = readSpectrum(text);
  if (!read.ok) throw new Error(read.problem);
  return read.factor;
};
const wanted = factorOf(rows(',', point).join('\n'));

describe('a spectrum file', () => {
  it.each([
    ['semicolons and decimal commas', rows(';', comma)],
    ['tabs', rows('\t', point)],
    ['tabs and decimal commas', rows('\t', comma)],
    ['spaces', rows('   ', point)],
    ['spaces and decimal commas', rows('  ', comma)],
    ['a head of several lines', ['Lamp 7, measured', 'nm,W/m2/nm', ...rows(',', point)]],
    ['powers of ten', rows(',', (value) => value.toExponential(3))],
    ['a third column and an empty last line', [...rows(',', point).map((row) => `${row},9`), '']],
  ])('with %s gives the same factor', (_, lines) => {
    expect(factorOf(lines.join('\r\n'))).toEqual(wanted);
  });

  it('comes with a range of 3 % to either side', () => {
    expect(wanted.lowest / wanted.factor).toBeCloseTo(0.97, 3);
    expect(wanted.highest / wanted.factor).toBeCloseTo(1.03, 3);
  });

  it.each([
    [
      'a word among the numbers',
      [...rows(',', point), 'end,of file'],
      'Line 82: found end,of file',
    ],
    ['nothing', [''], 'spans no wavelength'],
    ['too narrow a span', rows(',', point).slice(10), 'spans 430 to 780 nm'],
  ])('with %s is refused, and says where', (_, lines, words) => {
    const read = readSpectrum(lines.join('\n'));
    expect(read.ok ? '' : read.problem).toContain(words);
  });
});
