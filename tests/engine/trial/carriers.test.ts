import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { carrierCases, carrierRates, type CarrierRates } from '../../bench/carrierRates';

/** Three Monte-Carlo standard errors of a rate of 5 %. */
const near = (runs: number) => 3 * Math.sqrt((0.05 * 0.95) / runs);

describe('levels that share a reservoir or lamps', () => {
  const stored = JSON.parse(
    readFileSync(new URL('../../bench/carrier-rates.json', import.meta.url), 'utf8'),
  ) as Record<string, CarrierRates>;

  it.each(carrierCases)('$name: judged by the right unit or not at all', (one) => {
    const short = carrierRates(one, 200, 'short');
    const long = stored[one.name];
    expect(long?.runs).toBe(10_000);
    for (const found of [short, long]) {
      if (!found) throw new Error('the case is stored');
      expect(found.judgedBy).toBe(one.judgedBy);
      expect(found.stops).toEqual(long?.stops);
      if (one.judgedBy === null) {
        expect(found.answer).toBeNull();
        expect(found.refusal).not.toBeNull();
        expect(found.stops).toContain('factor-not-replicated');
      } else {
        const { share = NaN, se = NaN } = found.answer ?? {};
        expect(Math.abs(share - 0.05)).toBeLessThan(near(found.runs));
        expect(se).toBeCloseTo(Math.sqrt((share * (1 - share)) / found.runs), 12);
      }
      // What a plan would have claimed that takes each pot for a unit of its own.
      if (found.potsAsUnits) expect(found.potsAsUnits.share).toBeGreaterThan(0.35);
    }
  });

  it('are stopped wherever they were meant for less than they share, and nowhere else', () => {
    for (const one of carrierCases) {
      const said = one.input.trial.factors.some(({ appliedThrough }) => appliedThrough);
      expect(stored[one.name]?.stops.includes('carrier-shared'), one.name).toBe(said);
    }
  });

  it('are never told to go where the water or the lamps cannot follow', () => {
    const one = carrierCases.find(({ name }) => name.includes('both levels'));
    if (!one) throw new Error('there is such a case');
    const { refusal } = carrierRates(one, 1, 'none');
    expect(refusal).toContain('Use fewer levels, or add reservoirs.');
    expect(refusal).not.toContain('smaller unit');
  });
});
