import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { covariateCautions, positionWords } from '../../../renderer/engine/findings';
import type { Factor } from '../../../shared-types/trial/trial';
import { coverage, coverageCases, coverageModels, holds } from '../../bench/lightCoverage';
import { factorOf } from '../../builders/trialInput';

const file = new URL('../../bench/light-coverage.json', import.meta.url);

describe('the interval of a light treatment of 25 g', () => {
  it('held it in 93.5 to 96.5 % of 2,000 trials under every model that was measured', () => {
    expect(existsSync(file)).toBe(true);
    const stored = JSON.parse(readFileSync(file, 'utf8')) as Record<
      string,
      { share: number; answered: number; trials: number }
    >;
    const names = coverageCases.flatMap(({ name }) =>
      coverageModels.map((model) => `${name}, ${model}`),
    );
    expect(Object.keys(stored).sort()).toEqual(names.sort());
    for (const [name, { share, answered, trials }] of Object.entries(stored)) {
      expect(trials, name).toBe(2000);
      // Once in a while a surface takes up all that differs within trays, and is refused.
      expect(answered, name).toBeGreaterThanOrEqual(1999);
      expect(share, name).toBeGreaterThanOrEqual(0.935);
      expect(share, name).toBeLessThanOrEqual(0.965);
    }
  });

  it('is given by the planned model in each trial, with plants that died', () => {
    for (const one of coverageCases) {
      for (const model of coverageModels) {
        expect(holds(one, model, `short ${model}`), `${one.name}, ${model}`).not.toBeNull();
      }
    }
  });

  it('holds it about as often as it says, in a short run with the light allowed for', () => {
    const [bays] = coverageCases;
    if (!bays) throw new Error('there is a case in bays');
    const TRIALS = 100;
    const seeds = Array.from({ length: TRIALS }, (_, i) => `short run ${i}`);
    const { share, answered } = coverage(bays, 'light', seeds);
    expect(answered).toBe(TRIALS);
    // Three Monte-Carlo standard errors of as many trials.
    expect(Math.abs(share - 0.95)).toBeLessThan(3 * Math.sqrt((0.95 * 0.05) / TRIALS));
  });
});

describe('the words of what is allowed for', () => {
  it('say that light is the difference from its unit’s mean where light is a treatment', () => {
    expect(positionWords({ lightUnit: 'shelf' }).light).toBe(
      'the light at each pot, as the difference from its shelf’s mean',
    );
    expect(positionWords({ lightUnit: 'bay', lightOverTrial: true }).light).toBe(
      'the light over the trial with the tray moves, as the difference from its bay’s mean',
    );
    expect(positionWords({}).light).toBe('the light at each pot');
  });

  const through = (appliedThrough: Factor['appliedThrough'], unit: Factor['unit']): Factor => {
    const { appliedThrough: _, ...factor } = factorOf(1, unit, 2, { name: 'feed' });
    return appliedThrough ? { ...factor, appliedThrough } : factor;
  };
  const cautions = (
    factor: Factor,
    primaryPosition: 'light' | 'none' = 'none',
    wetDepthCovariate = false,
  ) => covariateCautions({ factors: [factor], primaryPosition, wetDepthCovariate });

  it('warn of the depth of water where a treatment may change it', () => {
    expect(cautions(through('water', 'zone'), 'none', true)).toEqual([
      'feed may change how deep the water stands. Allowing for the depth may then take a part of its effect away.',
    ]);
    expect(cautions(through('medium', 'pot'), 'none', true)).toHaveLength(1);
    expect(cautions(through('water', 'zone'))).toEqual([]);
    expect(cautions(through('hand', 'pot'), 'none', true)).toEqual([]);
  });

  it('warn of the light where a factor on whole places may be the light', () => {
    expect(cautions(through(undefined, 'shelf'), 'light')[0]).toContain(
      'allowing for light takes its effect away',
    );
    expect(cautions(through('light', 'shelf'), 'light')).toEqual([]);
    expect(cautions(through('hand', 'shelf'), 'light')).toEqual([]);
    expect(cautions(through(undefined, 'pot'), 'light')).toEqual([]);
    expect(cautions(through(undefined, 'shelf'))).toEqual([]);
  });

  it('warn of light that follows typed heights of trays, where a factor may have made plants taller', () => {
    const typed = (factor: Factor, primaryPosition: 'light' | 'none', byTyped = true) =>
      covariateCautions({ factors: [factor], primaryPosition, wetDepthCovariate: false }, byTyped);
    expect(typed(through('water', 'tray'), 'light')[0]).toContain('If feed made plants taller');
    expect(typed(through('water', 'tray'), 'none')).toEqual([]);
    expect(typed(through('water', 'tray'), 'light', false)).toEqual([]);
    expect(typed(through('medium', 'pot'), 'light')).toEqual([]);
    expect(typed(through('light', 'shelf'), 'light')).toEqual([]);
  });
});
