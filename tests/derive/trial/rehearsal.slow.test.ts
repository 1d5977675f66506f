import { describe, expect, it } from 'vitest';
import { findingsInputOf } from '../../../renderer/derive';
import {
  plannedAnalysis,
  rehearsalInputOf,
  rehearsePlanned,
  type RehearsalInput,
} from '../../../renderer/derive/trial/rehearsal';
import { findingsOf, startBefore } from '../../../renderer/engine/findings';
import {
  fQuantileUpper,
  fUpper,
  noncentralFUpper,
} from '../../../renderer/engine/stats/distributions';
import { unitsOf, type HarvestModel, type TrialInput } from '../../../renderer/engine/trial';
import { termPowers } from '../../../renderer/engine/trial/power';
import { differencesBetweenEnds } from '../../../renderer/engine/trial/rehearsal';
import { siteOf } from '../../../renderer/engine/trial/site/siteOf';
import { trialSchema } from '../../../shared-types/trial/trial';
import { type PositionModel } from '../../../shared-types/trial/position';
import {
  domedLight,
  factorOf,
  inputOf,
  rackOf,
  soundSplitPlot,
  trialOf,
} from '../../builders/trialInput';
import { example } from '../../builders/examplePlans';

const model: HarvestModel = {
  perUmol: 0,
  edgeEffect: 0,
  plantSd: 1,
  traySd: 0,
  shelfSd: 0,
  deadShare: 0,
  startCorrelation: 0,
};
const none = { levels: {}, interactions: [] };

const request = (
  input: TrialInput,
  more: Partial<RehearsalInput> & Pick<RehearsalInput, 'runs' | 'seed'>,
): RehearsalInput => ({ ...input, wetDepthByPot: new Map(), model, effects: none, ...more });

/** Monte-Carlo standard error of a share. */
const error = (share: number, runs: number) => Math.sqrt((share * (1 - share)) / runs);

describe('the rehearsed analysis', () => {
  const models: PositionModel[] = [
    'none',
    'edge',
    'light',
    'linear',
    'rows+columns',
    'smooth',
    'ar1',
  ];

  it.each(models)('is the very one of the findings, with position as %s', (primaryPosition) => {
    // The recorded basil trial: what its findings say must be what a rehearsal would have said.
    const basil = example('basil');
    const trial = { ...basil.trial, primaryPosition, startCovariate: true };
    const plan = { ...basil, trial };
    const input = rehearsalInputOf(plan);
    const asked = findingsInputOf(plan);
    const primary = trial.measurements.find((m) => m.id === trial.primaryOutcomeId);
    const start = primary && startBefore(trial, primary);
    if (!input || !asked || !plan.layout || !primary || !start) throw new Error('basil is a trial');
    const found = findingsOf(asked, { primaryOnly: true });
    if (!found.ok) throw new Error(found.missing);

    const site = siteOf(input);
    const { values, marks } = plan.records;
    const placed = new Map(plan.layout.assignments.map((a) => [a.potId, a.levels]));
    const at = (id: string, i: number) => values[id]?.[site.pots[i]?.id ?? ''];
    const count = site.pots.length;
    const tests = plannedAnalysis(input, site)
      .planned({
        alive: Uint8Array.from({ length: count }, (_, i) =>
          at(primary.id, i) === undefined || marks[site.pots[i]?.id ?? ''] ? 0 : 1,
        ),
        start: Float64Array.from({ length: count }, (_, i) => at(start.id, i) ?? NaN),
        levels: new Map(
          trial.factors.map((factor) => {
            const ids = factor.levels.map((level) => level.id);
            return [
              factor.id,
              Int32Array.from(site.pots, (pot) =>
                ids.indexOf(placed.get(pot.id)?.[factor.id] ?? ''),
              ),
            ];
          }),
        ),
      })
      .tests(Float64Array.from({ length: count }, (_, i) => at(primary.id, i) ?? NaN));
    const names = new Map(trial.factors.map((factor) => [factor.id, factor.name]));
    const wanted = found.findings.primary.result.terms;
    expect(found.findings.primary.model).toBe(primaryPosition);
    expect(tests).toHaveLength(3);
    for (const { factorIds, p } of tests) {
      const name = factorIds.map((id) => names.get(id)).join(' × ');
      const term = wanted.find((one) => one.term === name);
      if (!term?.randomised) expect(p).toBe(term?.p);
      else {
        // Other layouts, and fewer of them, than the findings take.
        const share = term.p ?? 0;
        expect(Math.abs((p ?? NaN) - share)).toBeLessThan(4 * error(share, 499) + 0.004);
      }
    }
  });

  it('leaves position out where it cannot be allowed for, and says so', () => {
    const rack = rackOf({ shelves: 1, traysPerShelf: 1, rows: 4, columns: 6 });
    const input = inputOf(rack, trialOf([factorOf(1, 'pot', 2)], { primaryPosition: 'light' }));
    const report = rehearsePlanned(request(input, { runs: 20, seed: 'dark' }));
    expect(report.factors[0]?.falseAlarm).not.toBeNull();
    expect(report.notes).toHaveLength(1);
    expect(report.notes[0]).toContain('In 40 of 40 harvests the planned correction for place');
    expect(report.notes[0]).toContain('the light is the same for every measured pot, or not known');
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
    // Standard deviation of these four shifts, divisor 4, is 0.4.
    const levels = { f1: { l101: 0.4, l102: 0.4, l103: -0.4, l104: -0.4 } };
    const runs = 1000;
    const [factor] = rehearsePlanned(
      request(inputOf(rack, trial), {
        model: { ...model, shelfSd: 2 },
        effects: { ...none, levels },
        runs,
        seed: 'power',
      }),
    ).factors;
    const power = factor?.power;
    expect(Math.abs((power?.share ?? 0) - 0.2734025176)).toBeLessThan(4 * error(0.273, runs));
    expect(Math.abs((factor?.falseAlarm?.share ?? 0) - 0.05)).toBeLessThan(4 * error(0.05, runs));
    expect(power?.se).toBeCloseTo(error(power?.share ?? 0, runs), 12);
  });

  it('finds the power of the closed form for trays, pots and their interaction', () => {
    // Noncentral F with λ = n d²/(2 σ²) for two extreme levels d apart and the others midway,
    // n d²/(4 σ²) for a difference between differences; a tray mean of 8 pots has the variance
    // traySd² + plantSd²/8. 10 blocks: 18 error df for trays, so that a tray variance of 0 is rare.
    const rack = rackOf({ shelves: 10, traysPerShelf: 3, rows: 2, columns: 4 });
    const trial = trialOf([factorOf(1, 'tray', 3), factorOf(2, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'split-plot',
    });
    const input = inputOf(rack, trial);
    const traySd = 0.7;
    const difference = 0.9;
    const runs = 200;
    const report = rehearsePlanned(
      request(input, {
        model: { ...model, traySd, shelfSd: 1 },
        effects: differencesBetweenEnds(trial.factors, (f) => (f.id === 'f1' ? difference : 0.4), [
          { factorIds: ['f1', 'f2'], difference: 1.2 },
        ]),
        runs,
        seed: 'trays',
      }),
    );
    const power = (df: number, dfError: number, lambda: number) =>
      noncentralFUpper(fQuantileUpper(0.05, df, dfError), df, dfError, lambda);
    const trays = power(2, 18, (10 * difference ** 2) / (2 * (traySd ** 2 + 1 / 8)));
    // 60 pots a cultivar, 20 a combination; 240 − 30 trays − 3 − 6 error df.
    const pots = power(3, 201, (60 * 0.4 ** 2) / 2);
    const both = power(6, 201, (20 * 1.2 ** 2) / 4);
    const found = [...report.factors, ...report.interactions].map((term) => term.power?.share ?? 0);
    for (const [i, wanted] of [trays, pots, both].entries()) {
      expect(Math.abs((found[i] ?? 0) - wanted)).toBeLessThan(4 * error(wanted, runs));
    }
    expect(report.interactions[0]).toMatchObject({
      name: 'Factor 1 × Factor 2',
      errorTerm: 'between pots',
    });
    // The power stated at the trial stage reads differences in the same way.
    const expected = { plantSd: 1, unitSd: traySd, smallestDifference: 1.2, power: 0.8 };
    const planned = trialSchema.parse({ ...trial, expected });
    const stated = termPowers(unitsOf(input), planned, 240).map((term) => term.power);
    expect(stated[2]).toBeCloseTo(both, 10);
  });

  it('keeps its false alarms under uneven light, edges, tray spread and deaths', () => {
    // The analysis itself is held to the level by tests/engine/findings/rates.slow.test.ts.
    const runs = 200;
    const report = rehearsePlanned(
      request(soundSplitPlot(), {
        model: { ...model, perUmol: 0.02, traySd: 1, shelfSd: 1, edgeEffect: 0.5, deadShare: 0.05 },
        runs,
        seed: 'alarm',
      }),
    );
    for (const term of [...report.factors, ...report.interactions]) {
      expect(Math.abs((term.falseAlarm?.share ?? 0) - 0.05)).toBeLessThan(4 * error(0.05, runs));
    }
    // Pots taken for units mistake trays for nutrients most of the time.
    expect(report.factors[0]?.potsAsUnits?.falseAlarm.share).toBeGreaterThan(0.5);
    expect(report.factors[0]?.says).toMatch(/independent unit would cry a difference/);
  });

  it('shows that one shelf a lamp can tell nothing, and what a mistaken analysis would claim', () => {
    // With shelf SD s and plant SD 1, F of n pots a shelf is (1 + n s²) times a central F on 1 and
    // 2n − 2 df; hence the exact false-alarm rate of the mistaken analysis.
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 6 });
    const trial = trialOf([factorOf(1, 'shelf', 2)]);
    const runs = 1000;
    const [factor] = rehearsePlanned(
      request(inputOf(rack, trial), { model: { ...model, shelfSd: 0.5 }, runs, seed: 'lamp' }),
    ).factors;
    expect(factor?.power).toBeNull();
    expect(factor?.falseAlarm).toBeNull();
    const wanted = fUpper(fQuantileUpper(0.05, 1, 94) / (1 + 48 * 0.25), 1, 94);
    expect(wanted).toBeGreaterThan(0.5);
    const found = factor?.potsAsUnits?.falseAlarm.share ?? 0;
    expect(Math.abs(found - wanted)).toBeLessThan(4 * error(wanted, runs));
    const hundred = String(Number((found * 100).toPrecision(2)));
    expect(factor?.says).toContain('Factor 1 cannot be tested in this trial');
    expect(factor?.says).toContain(`in ${hundred} % of trials, against 5 % asked for`);
  });

  it('gains from the value at the start what its correlation allows', () => {
    // Covariance analysis leaves (1 − r²) of the variance and takes one degree of freedom.
    const rack = rackOf({ shelves: 1, traysPerShelf: 2, rows: 5, columns: 6 });
    const weight = (id: string, timepoint: 'start' | 'harvest') => ({
      id,
      name: 'weight',
      kind: 'weight' as const,
      unit: 'g',
      decimals: 1,
      timepoint,
      date: null,
      lowest: null,
      highest: null,
    });
    const trial = trialOf([factorOf(1, 'pot', 2)], {
      measurements: [weight('m1', 'start'), weight('m2', 'harvest')],
      primaryOutcomeId: 'm2',
      startCovariate: true,
    });
    const runs = 800;
    const power = (startCorrelation: number, startCovariate: boolean) => {
      const input = inputOf(rack, { ...trial, startCovariate });
      const [factor] = rehearsePlanned(
        request(input, {
          model: { ...model, startCorrelation },
          effects: { ...none, levels: { f1: { l101: 0.5 } } },
          runs,
          seed: 'start',
        }),
      ).factors;
      expect(Math.abs((factor?.falseAlarm?.share ?? 0) - 0.05)).toBeLessThan(4 * error(0.05, runs));
      return factor?.power?.share ?? 0;
    };
    const wanted = (variance: number, dfError: number) =>
      noncentralFUpper(fQuantileUpper(0.05, 1, dfError), 1, dfError, (30 * 0.25) / (2 * variance));
    const [without, within] = [wanted(1, 58), wanted(1 - 0.8 ** 2, 57)];
    expect(Math.abs(power(0.8, false) - without)).toBeLessThan(4 * error(without, runs));
    expect(Math.abs(power(0.8, true) - within)).toBeLessThan(4 * error(within, runs) + 0.01);
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
      const [factor] = rehearsePlanned(
        request(inputOf(rack, trial, light), {
          model: { ...model, perUmol: 0.06 },
          effects: { ...none, levels: { f1: { l101: 0.8 } } },
          runs: 400,
          seed: 'light',
        }),
      ).factors;
      return factor?.power?.share;
    };
    expect(power('light')).toBeGreaterThan((power('none') ?? 1) + 0.1);
  });

  it('shows what a Latin square gains over blocks where light falls off along the tray', () => {
    const rack = rackOf({ shelves: 1, traysPerShelf: 2, rows: 6, columns: 6 });
    const light = domedLight(rack, 0.5);
    const runs = 200;
    const rates = (scheme: 'latin-square' | 'complete-blocks') => {
      const trial = trialOf([factorOf(1, 'pot', 6)], { scheme, blocks: { by: 'tray' } });
      const [factor] = rehearsePlanned(
        request(inputOf(rack, trial, light), {
          model: { ...model, perUmol: 0.05 },
          effects: { ...none, levels: { f1: { l101: 1 } } },
          runs,
          seed: 'square',
        }),
      ).factors;
      return { alarm: factor?.falseAlarm?.share ?? 1, power: factor?.power?.share ?? 0 };
    };
    const square = rates('latin-square');
    const blocks = rates('complete-blocks');
    for (const { alarm } of [square, blocks]) {
      expect(Math.abs(alarm - 0.05)).toBeLessThan(4 * error(0.05, runs));
    }
    expect(square.power).toBeGreaterThan(blocks.power + 0.2);
  });
});
