import { describe, expect, it } from 'vitest';
import { parseLength } from '../../renderer/ui/length';
import { figures, fixed, formatLength, formatP, lengthNumber } from '../../renderer/words';

describe('lengths', () => {
  // One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
  it('shows millimetres and inches', () => {
    expect(formatLength(1200, 'metric')).toBe('1200 mm');
    expect(formatLength(609.6, 'imperial')).toBe('24 in');
    expect(formatLength(100, 'imperial')).toBe('3.94 in');
    expect(formatLength(-0.01, 'metric')).toBe('0 mm');
  });

  it('reads units, decimal commas and bare numbers of the shown system', () => {
    expect(parseLength('24', 'imperial')).toBeCloseTo(609.6, 9);
    expect(parseLength('24', 'metric')).toBe(24);
    expect(parseLength(' 1,2 m ', 'imperial')).toBe(1200);
    expect(parseLength('2ft', 'metric')).toBeCloseTo(609.6, 9);
    expect(parseLength('12.5cm', 'metric')).toBe(125);
    expect(parseLength('3"', 'metric')).toBeCloseTo(76.2, 9);
  });

  it('refuses what is no length', () => {
    for (const text of ['', 'wide', '1 2', '1..2', 'NaN', '1e3', '12 km']) {
      expect(parseLength(text, 'metric')).toBeNull();
    }
  });

  it('reads back what it shows', () => {
    for (const mm of [0, 1, 12.5, 88, 1234.5, -30]) {
      for (const system of ['metric', 'imperial'] as const) {
        const read = parseLength(lengthNumber(mm, system), system);
        expect(Math.abs((read ?? Number.NaN) - mm)).toBeLessThan(0.02);
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
    expect(formatP(0.0004)).toBe('< 0.001');
    expect(formatP(0.0496)).toBe('0.0496');
  });
});
