import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { coverageOfPlusMinus, type CoverageOfPlusMinus } from '../../bench/lightPlusMinus';
import {
  exchangeRates,
  slipRates,
  type ExchangeRates,
  type SlipRates,
} from '../../bench/readingSlips';

const stored = <Rates>(name: string) =>
  Object.entries(
    JSON.parse(readFileSync(new URL(`../../bench/${name}`, import.meta.url), 'utf8')) as Record<
      string,
      Rates
    >,
  );
const seeds = (name: string, count: number) =>
  Array.from({ length: count }, (_, i) => `${name} ${i}`);

describe('the ± (95 %) of simulated rooms, whose ranges are in tests/bench/lightPlusMinus.ts', () => {
  it('holds the truth in 92 to 97 of 100 pots and shelves, however ranges are drawn, by the stored run', () => {
    const all = stored<CoverageOfPlusMinus>('light-plus-minus.json');
    expect(all).toHaveLength(27);
    for (const [name, { rooms, pots, means, silent }] of all) {
      expect([name, rooms >= 500, silent]).toEqual([name, true, 0]);
      for (const share of [pots, means]) {
        expect(share, name).toBeGreaterThan(92);
        expect(share, name).toBeLessThan(97);
      }
    }
  });

  // Pots of one room stand and fall together: of 30 rooms 4 more or less than 28 are chance.
  it.each([
    [0, 'ppfd'],
    [1, 'ppfd'],
    [6, 'lux'],
  ] as const)('holds it in a short run as well: %i readings, %s', (count, meter) => {
    const found = coverageOfPlusMinus(seeds('short', 30), count, meter);
    expect(found.pots).toBeGreaterThan(85);
    expect(found.means).toBeGreaterThan(82);
    expect(found.withheld).toBe(0);
  });

  it('readings bring the error of a pot down, and the ± with it', () => {
    const [none, six] = [0, 6].map((count) =>
      coverageOfPlusMinus(seeds('short', 25), count, 'ppfd'),
    );
    expect(six?.potError).toBeLessThan(0.75 * (none?.potError ?? NaN));
    expect(six?.potPlusMinus).toBeLessThan(0.75 * (none?.potPlusMinus ?? NaN));
  });
});

describe('slips planted in readings of simulated rooms', () => {
  it('are found and named in 99 of 100 rooms, and no sound set is withheld, by the stored run', () => {
    const all = stored<SlipRates>('reading-slips.json');
    expect(all.length).toBeGreaterThan(90);
    for (const [name, { found, named, soundLeftOut, withheld }] of all) {
      const sound = name.endsWith('all sound');
      expect(found, name).toBeGreaterThan(99);
      expect(soundLeftOut, name).toBeLessThan(2);
      if (sound) expect([name, named, withheld]).toEqual([name, 0, 0]);
      else expect(named, name).toBeGreaterThan(99);
    }
  });

  it.each([
    [2, 'one', 'ten times'],
    [3, 'most', 'lux typed as PPFD'],
    [8, 'third', 'a tenth'],
    [20, 'one', 'PPFD typed as lux'],
  ] as const)('%i readings, %s: %s is found and named', (count, reach, slip) => {
    const rates = slipRates(seeds('slip', 12), count, slip, reach);
    expect(rates).toMatchObject({ found: 100, named: 100, soundLeftOut: 0 });
  });

  it('sound readings are neither withheld nor left out', () => {
    for (const count of [1, 2, 3, 8]) {
      const rates = slipRates(seeds('sound', 12), count, 'ten times', 'none');
      expect(rates).toMatchObject({ named: 0, soundLeftOut: 0, withheld: 0 });
    }
  });

  it('exchanged readings are mostly named, others hardly ever, by the stored run and a short one', () => {
    const all = stored<ExchangeRates>('reading-exchanges.json');
    expect(all).toHaveLength(20);
    for (const [name, { told, named, wrong }] of all) {
      const sound = name.endsWith('all sound');
      expect(wrong, name).toBeLessThan(sound ? 3 : 6);
      if (sound) expect(told, name).toBeLessThan(3);
      else expect([name, told > 85, named > 50]).toEqual([name, true, true]);
    }
    const short = exchangeRates(seeds('exchanged', 15), 8, 1.3);
    expect(short.named).toBeGreaterThan(70);
    expect(exchangeRates(seeds('exchanged', 15), 8, 1)).toMatchObject({ named: 0, wrong: 0 });
  });
});
