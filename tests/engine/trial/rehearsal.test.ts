import { describe, expect, it } from 'vitest';
import { fQuantileUpper, noncentralFUpper } from '../../../renderer/engine/stats/distributions';
import { rehearse, treatmentsOf } from '../../../renderer/engine/trial';
import type { HarvestModel, TrialInput } from '../../../renderer/engine/trial';
import {
  potsAsUnits,
  plannedStrata,
  testStrata,
} from '../../../renderer/engine/trial/rehearsal/strata-test';
import { siteOf } from '../../../renderer/engine/trial/site';
import { domedLight, factorOf, inputOf, rackOf, soundSplitPlot, trialOf } from './sample';

const model: HarvestModel = {
  mean: 10,
  perUmol: 0,
  edgeEffect: 0,
  plantSd: 1,
  traySd: 0,
  shelfSd: 0,
  deadShare: 0,
};

/** F of every source when the pots, in their order, have these levels and values. */
function fOf(
  input: TrialInput,
  levels: Record<string, number[]>,
  y: number[],
  naive = false,
): number[] {
  const site = siteOf(input);
  const numbers = new Map(Object.entries(levels).map(([id, list]) => [id, Int32Array.from(list)]));
  const plans = naive ? potsAsUnits(site, numbers, []) : plannedStrata(site, numbers, []);
  const alive = new Uint8Array(y.length).fill(1);
  return testStrata(plans, [Float64Array.from(y)], alive).map((test) => test.f[0] ?? NaN);
}

describe('the rehearsed analysis', () => {
  it('is that of the rice trial', () => {
    // Gomez & Gomez 1984 (trade-facts 7.9 C); blocks are shelves, rates in order within them.
    const rates = [
      [5113, 5398, 5307, 4678],
      [5346, 5952, 4719, 4264],
      [5272, 5713, 5483, 4749],
      [5164, 4831, 4986, 4410],
      [4804, 4848, 4432, 4748],
      [5254, 4542, 4919, 4098],
    ];
    const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 1, columns: 6 });
    const trial = trialOf([factorOf(1, 'pot', 6)], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
    });
    const y = [0, 1, 2, 3].flatMap((block) => rates.map((row) => row[block] ?? NaN));
    const levels = { f1: [0, 1, 2, 3].flatMap(() => [0, 1, 2, 3, 4, 5]) };
    expect(fOf(inputOf(rack, trial), levels, y)[0]).toBeCloseTo(2.167778681, 8);
    // Blocks ignored.
    const free = trialOf([factorOf(1, 'pot', 6)]);
    expect(fOf(inputOf(rack, free), levels, y)[0]).toBeCloseTo(1.197420461, 8);
  });

  it('is that of the wireworm square', () => {
    // Cochran 1938 (trade-facts 7.9 E).
    const square =
      'P3 O2 N5 K1 M4 M6 K0 O6 N4 P4 O4 M9 K1 P6 N5 N17 P8 M8 O9 K0 K4 N4 P2 M4 O8'.split(' ');
    const rack = rackOf({ shelves: 1, traysPerShelf: 1, rows: 5, columns: 5 });
    const trial = trialOf([factorOf(1, 'pot', 5)], { scheme: 'latin-square' });
    const levels = { f1: square.map((cell) => 'KMNOP'.indexOf(cell.charAt(0))) };
    const y = square.map((cell) => Number(cell.slice(1)));
    expect(fOf(inputOf(rack, trial), levels, y)[0]).toBeCloseTo(2.901197605, 8);
  });

  it('takes shelves, not plants, for the units of a shelf treatment', () => {
    // trade-facts 7.9 G: right F 4.446153846, plants as units 19.50306748.
    const shelves = [
      [10, 11, 12, 11],
      [13, 14, 12, 13],
      [9, 10, 10, 11],
      [14, 15, 13, 14],
      [12, 13, 13, 12],
      [16, 15, 17, 16],
    ];
    const input = inputOf(
      rackOf({ shelves: 6, traysPerShelf: 1, rows: 1, columns: 4 }),
      trialOf([factorOf(1, 'shelf', 2)]),
    );
    const levels = { f1: shelves.flatMap((_, s) => [0, 0, 0, 0].map(() => (s < 3 ? 0 : 1))) };
    expect(fOf(input, levels, shelves.flat())[0]).toBeCloseTo(4.446153846, 8);
    expect(fOf(input, levels, shelves.flat(), true)[0]).toBeCloseTo(19.50306748, 7);
  });
});

describe('rehearsal', () => {
  it('finds the power of the closed form for blocks', () => {
    // trade-facts 7.10: t 4, r 6, f .4, alpha .05: power .2734025176 (df 3, 15, λ 3.84).
    const rack = rackOf({ shelves: 6, traysPerShelf: 1, rows: 1, columns: 4 });
    const trial = trialOf([factorOf(1, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
    });
    const levels = treatmentsOf(trial).map((t) => t.key);
    // Standard deviation of these four shifts, divisor 4, is 0.4.
    const effects = { f1: Object.fromEntries(levels.map((id, i) => [id, i < 2 ? 0.4 : -0.4])) };
    const runs = 4000;
    const [factor] = rehearse({
      ...inputOf(rack, trial),
      model: { ...model, shelfSd: 2 },
      effects,
      runs,
      seed: 'power',
    }).factors;
    const se = (p: number) => Math.sqrt((p * (1 - p)) / runs);
    expect(Math.abs((factor?.power?.share ?? 0) - 0.2734025176)).toBeLessThan(4 * se(0.273));
    expect(Math.abs((factor?.falseAlarm?.share ?? 0) - 0.05)).toBeLessThan(4 * se(0.05));
    expect(factor?.power?.se).toBeCloseTo(se(factor?.power?.share ?? 0), 12);
  });

  it('finds the power of the closed form for trays of a split plot', () => {
    // Noncentral F with λ = n d² / (2 σ²) for two extreme levels d apart and one midway; a tray mean
    // of 8 pots has variance σ² = traySd² + plantSd²/8; 6 blocks: error df 10.
    const rack = rackOf({ shelves: 6, traysPerShelf: 3, rows: 2, columns: 4 });
    const trial = trialOf([factorOf(1, 'tray', 3), factorOf(2, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'split-plot',
    });
    const traySd = 0.5;
    const difference = 1.2;
    const noncentrality = (6 * difference ** 2) / (2 * (traySd ** 2 + 1 / 8));
    const expected = noncentralFUpper(fQuantileUpper(0.05, 2, 10), 2, 10, noncentrality);
    const runs = 2000;
    const [factor] = rehearse({
      ...inputOf(rack, trial),
      model: { ...model, traySd, shelfSd: 1 },
      effects: { f1: { l101: -difference / 2, l103: difference / 2 } },
      runs,
      seed: 'trays',
    }).factors;
    const se = Math.sqrt((expected * (1 - expected)) / runs);
    expect(Math.abs((factor?.power?.share ?? 0) - expected)).toBeLessThan(4 * se);
  });

  it('keeps its false alarms under uneven light, tray spread and deaths', () => {
    const report = rehearse({
      ...soundSplitPlot(),
      model: { ...model, perUmol: 0.05, traySd: 1, shelfSd: 1, edgeEffect: 1, deadShare: 0.05 },
      effects: {},
      runs: 1500,
      seed: 'alarm',
    });
    for (const factor of report.factors) {
      expect(Math.abs((factor.falseAlarm?.share ?? 0) - 0.05)).toBeLessThan(4 * 0.0056);
    }
    // Pots taken for units mistake trays for nutrients most of the time.
    expect(report.factors[0]?.potsAsUnits?.falseAlarm.share).toBeGreaterThan(0.5);
  });

  it('shows that one shelf a lamp can tell nothing, and what a mistaken analysis would claim', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 6 });
    const trial = trialOf([factorOf(1, 'shelf', 2)]);
    const [factor] = rehearse({
      ...inputOf(rack, trial),
      model: { ...model, shelfSd: 1 },
      effects: {},
      runs: 300,
      seed: 'lamp',
    }).factors;
    expect(factor?.power).toBeNull();
    expect(factor?.falseAlarm).toBeNull();
    expect(factor?.potsAsUnits?.falseAlarm.share).toBeGreaterThan(0.6);
  });

  it('gains from light as covariate where blocks do not follow the light', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 1, rows: 4, columns: 8 });
    const light = domedLight(rack, 0.5);
    const power = (primaryPosition: 'none' | 'light') => {
      const trial = trialOf([factorOf(1, 'pot', 2)], {
        blocks: { by: 'shelf' },
        scheme: 'complete-blocks',
        primaryPosition,
      });
      return rehearse({
        ...inputOf(rack, trial, light),
        model: { ...model, perUmol: 0.06 },
        effects: { f1: { l101: 0.8 } },
        runs: 400,
        seed: 'light',
      }).factors[0]?.power?.share;
    };
    expect(power('light')).toBeGreaterThan((power('none') ?? 1) + 0.1);
  });

  it('repeats from its seed, tells its progress and can be stopped', () => {
    const told: number[] = [];
    const request = { ...soundSplitPlot(), model, effects: {}, runs: 40, seed: 'again' };
    const first = rehearse({ ...request, onProgress: (done) => told.push(done) });
    expect(rehearse(request)).toEqual(first);
    expect(told).toEqual([20, 40, 40]);
    let asked = 0;
    const stopped = rehearse({ ...request, isCancelled: () => ++asked === 7 });
    expect(stopped).toMatchObject({ runs: 7, cancelled: true });
  });

  it('names an unknown factor, level or impossible figure', () => {
    const request = { ...soundSplitPlot(), model, effects: {}, runs: 10, seed: 'x' };
    expect(() => rehearse({ ...request, effects: { f9: {} } })).toThrow('factor f9 was found');
    expect(() => rehearse({ ...request, effects: { f1: { l999: 1 } } })).toThrow(
      'level l999 was found',
    );
    expect(() => rehearse({ ...request, model: { ...model, plantSd: 0 } })).toThrow('plantSd');
    expect(() => rehearse({ ...request, runs: 0 })).toThrow('0 runs');
  });
});
