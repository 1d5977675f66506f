import { describe, expect, it } from 'vitest';
import { readTyped } from '../../../renderer/document/records';
import { newTrial } from '../../../renderer/document/newTrial';
import type { Measurement } from '../../../shared-types/trial/measurement';

const [weight] = newTrial({ start: 'm1', harvest: 'm2' }, 'q').measurements;
if (!weight) throw new Error('a new trial measures a weight');
const grams: Measurement = { ...weight, kind: 'weight', unit: 'g', decimals: 2 };
const leaves: Measurement = { ...weight, kind: 'count', unit: 'leaves', decimals: 0 };
const height: Measurement = { ...weight, kind: 'length', unit: 'mm', decimals: 0 };

const value = (text: string, m = grams, tare = 0) => {
  const read = readTyped(text, m, tare);
  return read.kind === 'value' ? read.value : read.kind;
};

describe('what is typed into a cell', () => {
  it('takes point and comma, and refuses what could be either', () => {
    expect(value('12.43')).toBe(12.43);
    expect(value('12,43')).toBe(12.43);
    expect(value('1.234,5')).toBe(1234.5);
    expect(value('1\u202F234,5')).toBe(1234.5);
    expect(value('1 234')).toBe('unreadable');
    expect(value('1,234,5')).toBe('unreadable');
    expect(value('heavy')).toBe('unreadable');
    expect(value('  ')).toBe('blank');
  });

  it('asks where a mark can stand before decimals or between thousands', () => {
    const kilograms: Measurement = { ...grams, unit: 'kg', decimals: 3 };
    expect(readTyped('1,234', grams)).toEqual({
      kind: 'unreadable',
      expected: '“1,234” can be 1234 or 1.234. Type 1234 or 1.234.',
    });
    for (const text of ['1,234', '-12,345', '123,456', '1,234 mg', '1.234 mg', '1,234 kg']) {
      expect(value(text)).toBe('unreadable');
    }
    // With one decimal, a point before three digits is no decimal point to be sure of.
    expect(readTyped('1.234', { ...grams, decimals: 1 })).toMatchObject({
      expected: '“1.234” can be 1234 or 1.2. Type 1234 or 1.2.',
    });
    expect(value('1,234', leaves)).toBe('unreadable');
    expect(value('1,234', kilograms)).toBe('unreadable');
    // What is typed as the question says is taken.
    expect(value('1234')).toBe(1234);
    expect(readTyped('1.234', grams)).toMatchObject({ remark: '1.234 kept as 1.23' });
    // Narrowly no question: three decimals that count, a nought, four digits, a range, a balance.
    expect(value('1.234', kilograms)).toBe(1.234);
    expect(value('1.234 kg')).toBe(1234);
    expect(value('0,234')).toBe(0.23);
    expect(value('1234,567')).toBe(1234.57);
    expect(value('1,2345')).toBe(1.23);
    expect(value('1,234,567')).toBe(1234567);
    expect(value('1,234', { ...kilograms, highest: 20 })).toBe(1.234);
    expect(readTyped('1.234', { ...grams, decimals: 1 }, 0, true)).toMatchObject({ value: 1.2 });
  });

  it('converts a typed unit: ounce and pound of 1959, NIST SP 811 appendix B', () => {
    expect(value('0,0124 kg')).toBe(12.4);
    expect(value('12430mg')).toBe(12.43);
    expect(value('12.43 G')).toBe(12.43);
    expect(value('1 oz')).toBe(28.35);
    expect(value('1lb')).toBe(453.59);
    expect(value('12 in', height)).toBe(305);
    expect(value('3.5 cm', height)).toBe(35);
    expect(value('7 leaves', leaves)).toBe(7);
  });

  it('refuses a unit that has nothing in common with the own one', () => {
    expect(readTyped('12 mm', grams)).toEqual({
      kind: 'unreadable',
      expected: '“mm” cannot be taken as g.',
    });
    expect(value('7 g', leaves)).toBe('unreadable');
    expect(value('2B-C7')).toBe('unreadable');
  });

  it('keeps the stated count of decimals, halves away from zero, and says so', () => {
    expect(readTyped('12.4349', grams)).toEqual({
      kind: 'value',
      value: 12.43,
      remark: '12.4349 kept as 12.43',
    });
    expect(value('2.675')).toBe(2.68);
    expect(value('-2.675')).toBe(-2.68);
    expect(readTyped('12.4', grams)).toMatchObject({ remark: null });
  });

  it('never rounds a count: one that is not whole is asked about', () => {
    expect(value('3.7', leaves)).toBe(3.7);
  });

  it('takes the dish off weights, in the own unit', () => {
    expect(value('14.43', grams, 2)).toBe(12.43);
    expect(value('0.01443 kg', grams, 2)).toBe(12.43);
    expect(value('1.9', grams, 2)).toBe('unreadable');
    expect(value('9', leaves, 2)).toBe(9);
  });

  it('takes what balances send: padding, sign apart, state before, unit after', () => {
    for (const sent of [
      '    12.43 g',
      '+   12.43 g',
      'N  12.43 g',
      'ST,NT,+  12.43g',
      'S 12.43 g',
    ]) {
      expect(value(sent)).toBe(12.43);
    }
    // Not settled, or overloaded.
    for (const sent of ['US,NT,+12.43g', 'OL', 'SD 12.43 g', '? 12.43 g']) {
      expect(value(sent)).toBe('unreadable');
    }
  });

  it('takes the words for plants that cannot be measured', () => {
    expect(readTyped('dead', grams)).toEqual({ kind: 'mark', mark: 'dead' });
    expect(readTyped(' D', grams)).toEqual({ kind: 'mark', mark: 'dead' });
    expect(readTyped('m', grams)).toEqual({ kind: 'mark', mark: 'missing' });
    expect(readTyped('x', grams)).toEqual({ kind: 'mark', mark: 'excluded' });
  });
});
