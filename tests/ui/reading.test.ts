import { describe, expect, it } from 'vitest';
import { readLength } from '../../renderer/ui/fields/length';
import { readNumberText } from '../../renderer/ui/fields/readNumberText';
import { figures, fixed, formatLength, formatP, lengthNumber } from '../../renderer/words';
import type { UnitSystem } from '../../renderer/words';

const mmOf = (text: string, system: UnitSystem) => {
  const read = readLength(text, system);
  return read.ok ? read.mm : read.expected;
};

describe('lengths', () => {
  // One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
  it('shows millimetres and inches', () => {
    expect(formatLength(1200, 'metric')).toBe('1200 mm');
    expect(formatLength(609.6, 'imperial')).toBe('24 in');
    expect(formatLength(100, 'imperial')).toBe('3.94 in');
    expect(formatLength(-0.01, 'metric')).toBe('0 mm');
  });

  it('reads units, decimal commas and bare numbers of the shown system', () => {
    expect(mmOf('24', 'imperial')).toBeCloseTo(609.6, 9);
    expect(mmOf('24', 'metric')).toBe(24);
    expect(mmOf(' 1,2 m ', 'imperial')).toBe(1200);
    expect(mmOf('2ft', 'metric')).toBeCloseTo(609.6, 9);
    expect(mmOf('12.5cm', 'metric')).toBe(125);
    expect(mmOf('3"', 'metric')).toBeCloseTo(76.2, 9);
  });

  it('reads fractions, and feet with inches', () => {
    const inches = (text: string) => Number(mmOf(text, 'imperial')) / 25.4;
    expect(inches('2 1/2')).toBeCloseTo(2.5, 9);
    expect(inches('2½')).toBeCloseTo(2.5, 9);
    expect(inches('2-1/2 in')).toBeCloseTo(2.5, 9);
    expect(inches('5/8"')).toBeCloseTo(0.625, 9);
    expect(inches('5\' 3"')).toBeCloseTo(63, 9);
    expect(inches('5’ 3 1/2”')).toBeCloseTo(63.5, 9);
    expect(inches('5ft3in')).toBeCloseTo(63, 9);
    expect(inches("-1' 6")).toBeCloseTo(-18, 9);
    expect(mmOf('1½ m', 'metric')).toBe(1500);
    for (const text of ['5\' 12"', '1/0', '2 1/2 1/2', '½½']) {
      expect(mmOf(text, 'imperial')).toMatch(/^Found/);
    }
  });

  it('asks where a mark can stand before decimals or between thousands', () => {
    const asked = '“1,200” can be 1200 mm or 1.2 mm. Type 1200 mm or 1.2 mm.';
    expect(mmOf('1,200', 'metric')).toBe(asked);
    expect(mmOf('1.200', 'metric')).toBe(asked.replace('1,200', '1.200'));
    expect(mmOf('1,200 m', 'metric')).toMatch(/^“1,200 m” can be 1200 m or 1\.200 m\./);
    // What the question says to type is taken, and so is what has one reading.
    expect(mmOf('1200 mm', 'metric')).toBe(1200);
    expect(mmOf('1.2 mm', 'metric')).toBe(1.2);
    expect(mmOf('1.200 m', 'metric')).toBe(1200);
    expect(mmOf('1,2 m', 'metric')).toBe(1200);
    expect(mmOf('47.244', 'imperial')).toBeCloseTo(1200, 2);
  });

  it('asks the same of plain numbers', () => {
    const number = (text: string, step: number) => {
      const read = readNumberText(text, step);
      return read.ok ? read.value : read.expected;
    };
    expect(number('1,200', 0.001)).toBe('“1,200” can be 1200 or 1.200. Type 1200 or 1.200.');
    expect(number('1.200', 0.001)).toBe(1.2);
    expect(number('1.200', 1)).toBe('“1.200” can be 1200 or 1.2. Type 1200 or 1.2.');
    expect(number('1,5', 0.1)).toBe(1.5);
    expect(number('−3', 1)).toBe(-3);
    expect(number('2½', 0.1)).toBe(2.5);
    for (const text of ['', 'wide', '0x10', 'Infinity']) expect(number(text, 1)).toBeNull();
  });

  it('refuses what is no length', () => {
    for (const text of ['', 'wide', '1 2', '1..2', 'NaN', '1e3', '12 km']) {
      expect(mmOf(text, 'metric')).toMatch(
        /^Found .*; a length such as 1200, 1\.2 m or 4' 2" is expected\.$/,
      );
    }
  });

  it('reads back what it shows', () => {
    for (const mm of [0, 1, 12.5, 88, 1234.5, -30]) {
      for (const system of ['metric', 'imperial'] as const) {
        const read = mmOf(lengthNumber(mm, system), system);
        expect(Math.abs(Number(read) - mm)).toBeLessThan(0.02);
      }
    }
  });
});

describe('figures', () => {
  it('keep three digits that count and a true minus sign', () => {
    expect(figures(1234.56)).toBe('1235');
    expect(figures(12.345)).toBe('12.3');
    expect(figures(-0.012345)).toBe('−0.0123');
    expect(figures(0)).toBe('0');
    expect(figures(2.5e12)).toBe('2.50 × 10¹²');
    expect(figures(Infinity)).toBe('∞');
    expect(figures(Number.NaN)).toBe('–');
  });

  it('never show a minus before nothing', () => {
    expect(fixed(-0.0001, 2)).toBe('0.00');
    expect(fixed(-1.005, 1)).toBe('−1.0');
  });

  it('say small probabilities as a bound', () => {
    expect(formatP(0.0004, 0.05)).toBe('< 0.001');
    expect(formatP(0.0496, 0.05)).toBe('0.0496');
  });
});
