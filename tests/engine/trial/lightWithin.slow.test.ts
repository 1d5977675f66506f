import { describe, expect, it } from 'vitest';
import { findingsOf, type Findings } from '../../../renderer/engine/findings';
import { drawLayout, measuredPots } from '../../../renderer/engine/trial';
import { blocksOf } from '../../../renderer/engine/trial/blocks/blocks';
import { lightWithin } from '../../../renderer/engine/trial/lightWithin';
import { stream } from '../../../renderer/engine/trial/stream';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import type { PositionModel } from '../../../shared-types/trial/position';
import {
  drawn,
  factorOf,
  inputOf,
  rackOf,
  trialOf,
  harvestWeight,
} from '../../builders/trialInput';

const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 4, columns: 8 });
const pots = measuredPots(rack);
const isBright = (shelfId: string) => shelfId === 's1' || shelfId === 's3';
/** Bright and dim shelves, each brightest in its middle. */
const ppfdByPot = new Map(
  pots.map((pot) => [
    pot.id,
    (isBright(pot.shelfId) ? 400 : 150) * (1 - Math.abs(pot.xMm - 400) / 1600),
  ]),
);
const light: Factor = factorOf(1, 'shelf', 2, {
  kind: 'fixed',
  name: 'light',
  appliedThrough: 'light',
  where: ['s1', 's2', 's3', 's4'].map((unitId) => ({
    unitId,
    levelId: isBright(unitId) ? 'l101' : 'l102',
  })),
});

describe('light as a covariate where light is the treatment', () => {
  it('is what differs within its units, at the level of the whole', () => {
    const within = lightWithin([light], pots, ppfdByPot);
    const mean = (values: (number | undefined)[]) =>
      values.reduce<number>((sum, value) => sum + (value ?? NaN), 0) / values.length;
    const all = mean([...ppfdByPot.values()]);
    for (const shelf of rack.shelves) {
      const own = pots.filter((pot) => pot.shelfId === shelf.id);
      expect(mean(own.map((pot) => within.get(pot.id)))).toBeCloseTo(all, 9);
      const [first, second] = own;
      if (!first || !second) throw new Error('a shelf has pots');
      const step = (of: ReadonlyMap<string, number>) =>
        (of.get(second.id) ?? NaN) - (of.get(first.id) ?? NaN);
      expect(step(within)).toBeCloseTo(step(ppfdByPot), 9);
    }
  });

  it('stays as it is where no factor acts through light', () => {
    expect(lightWithin([factorOf(1, 'shelf', 2)], pots, ppfdByPot)).toBe(ppfdByPot);
  });

  it('makes blocks that hold bright and dim shelves alike', () => {
    const blocks = { by: 'light', bands: 4 } as const;
    const shelvesIn = (factors: Factor[]) =>
      blocksOf(inputOf(rack, trialOf(factors, { blocks }), ppfdByPot)).map(
        ({ potIds }) =>
          new Set(pots.filter(({ id }) => potIds.includes(id)).map((p) => p.shelfId)).size,
      );
    expect(shelvesIn([light])).toEqual([4, 4, 4, 4]);
    expect(Math.max(...shelvesIn([{ ...light, appliedThrough: 'hand' }]))).toBe(2);
  });
});

const measurement = harvestWeight({ lowest: 0, highest: 200 });

/** Bright shelves 25 g above dim ones, pots at the edge 5 g below inner ones. */
function harvest(seed: string, primaryPosition: PositionModel): Findings {
  const trial = trialOf([light], {
    startDate: '2026-03-02',
    harvestDate: '2026-03-30',
    primaryOutcomeId: 'm1',
    primaryPosition,
    measurements: [measurement] as Trial['measurements'],
  });
  const { layout } = drawLayout({ rack, trial, ppfdByPot, zones: [], seed, ...drawn });
  const random = stream(seed, 'harvest');
  const shelves = new Map(rack.shelves.map((shelf) => [shelf.id, random.normal() * 2]));
  const values = pots.map((pot): [string, number] => [
    pot.id,
    60 +
      (isBright(pot.shelfId) ? 25 : 0) +
      (pot.onEdge ? -5 : 0) +
      (shelves.get(pot.shelfId) ?? 0) +
      3 * random.normal(),
  ]);
  const outcome = findingsOf(
    {
      rack,
      trial,
      layout,
      zones: [],
      ppfdByPot,
      ppfdAtDraw: ppfdByPot,
      startByPot: new Map(),
      blockByPot: new Map(),
      records: {
        second: {},
        marks: {},
        incidents: [],
        values: { m1: Object.fromEntries(values) },
      },
    },
    { primaryOnly: true },
  );
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const brightLess = (found: Findings) => {
  const [row] = found.primary?.result.comparisons[0]?.rows ?? [];
  if (!row) throw new Error('the two levels are compared');
  const sign = row.a === 'Level 1' ? 1 : -1;
  const ends = [sign * row.lower, sign * row.upper].sort((a, b) => a - b);
  return { difference: sign * row.difference, lower: ends[0] ?? NaN, upper: ends[1] ?? NaN };
};

describe('a light treatment of 25 g', () => {
  it('is the same whichever way position within its shelves is allowed for', () => {
    const plain = brightLess(harvest('one', 'none'));
    for (const model of ['edge', 'light', 'linear'] as const) {
      expect(brightLess(harvest('one', model)).difference).toBeCloseTo(plain.difference, 6);
    }
  });

  it('lies in its interval in 95 of 100 trials with the light allowed for', () => {
    const trials = 100;
    let covered = 0;
    for (let n = 0; n < trials; n++) {
      const { lower, upper } = brightLess(harvest(`trial ${n}`, 'light'));
      if (lower <= 25 && 25 <= upper) covered += 1;
    }
    // Three Monte-Carlo standard errors of 100 trials.
    expect(Math.abs(covered / trials - 0.95)).toBeLessThan(3 * Math.sqrt((0.95 * 0.05) / trials));
  });
});
