import { describe, expect, it } from 'vitest';
import {
  blockFiguresOf,
  findingsOfPlan,
  noticesOf,
  powersOf,
  schemeFitsOf,
  spreadOf,
  trialInputOf,
  tryDraw,
} from '../../../renderer/derive';
import { powerOfTerm } from '../../../renderer/engine/trial/power';
import type { Plan } from '../../../shared-types/plan';
import type { Trial } from '../../../shared-types/trial/trial';
import { example, undrawn } from '../../builders/examplePlans';

const basil = undrawn('basil');
const withTrial = (patch: Partial<Trial>): Plan => ({
  ...basil,
  trial: { ...basil.trial, ...patch },
});
const expected = { plantSd: 4, unitSd: 1, smallestDifference: 5, power: 0.8 };

describe('power of every term', () => {
  const powers = powersOf(withTrial({ expected }));
  if (!powers.ok) throw new Error(powers.reason);
  const term = (name: string) => {
    const found = powers.value.find((one) => one.name === name);
    if (!found) throw new Error(`${name} is a term`);
    return found;
  };

  it('has each in its own stratum', () => {
    expect(powers.value.map(({ name, dfEffect, dfError }) => [name, dfEffect, dfError])).toEqual([
      ['feed', 2, 4],
      ['cultivar', 3, 198],
      ['feed × cultivar', 6, 198],
    ]);
  });

  it('follows the closed forms', () => {
    // Three trays a level of 24 pots: λ = n d²/2 / (σ²tray + σ²plant/24).
    const feed = (3 * 25) / 2 / (1 + 16 / 24);
    const stratum = { alpha: 0.05, noncentrality: feed, dfEffect: 2, dfError: 4 };
    expect(term('feed').power).toBeCloseTo(powerOfTerm(stratum), 12);
    const cultivar = (54 * 25) / 2 / 16;
    expect(term('cultivar').power).toBeCloseTo(
      powerOfTerm({ alpha: 0.05, noncentrality: cultivar, dfEffect: 3, dfError: 198 }),
      12,
    );
    // The difference between differences d: four cells deviate by d/4, 18 pots each.
    const both = (18 * 4 * (5 / 4) ** 2) / 16;
    expect(term('feed × cultivar').power).toBeCloseTo(
      powerOfTerm({ alpha: 0.05, noncentrality: both, dfEffect: 6, dfError: 198 }),
      12,
    );
  });

  it('finds its detectable difference with the wanted power, and its needed units just reach it', () => {
    for (const { name, detectable, enough, curve } of powers.value) {
      const again = powersOf(
        withTrial({ expected: { ...expected, smallestDifference: detectable ?? 0 } }),
      );
      if (!again.ok) throw new Error(again.reason);
      expect(again.value.find((one) => one.name === name)?.power).toBeCloseTo(0.8, 8);
      const at = (units: number) => curve.find((p) => p.unitsPerLevel === units)?.power;
      const [there, before] = [at(enough ?? 0), at((enough ?? 0) - 1)];
      if (typeof there === 'number') expect(there).toBeGreaterThanOrEqual(0.8);
      if (typeof before === 'number') expect(before).toBeLessThan(0.8);
    }
  });

  it('warns of low power, and not where it is narrowly enough', () => {
    const low = (smallestDifference: number) =>
      noticesOf(withTrial({ expected: { ...expected, smallestDifference } })).filter(
        (notice) => notice.kind === 'low-power',
      );
    const edge = term('feed').detectable ?? 0;
    expect(low(edge * 1.001)).toEqual([]);
    expect(low(edge * 0.999)).toMatchObject([{ severity: 'warn', about: ['factor:f50'] }]);
  });
});

describe('blocks and schemes', () => {
  it('say how alike the pots of a block are', () => {
    const found = blockFiguresOf(basil);
    if (!found.ok) throw new Error(found.reason);
    const { blocks, light, smallSample } = found.value;
    expect(blocks.map(({ pots }) => pots)).toEqual([72, 72, 72]);
    // Bands of light are alike by construction: less is left within them than within shelves.
    const banded = blockFiguresOf(withTrial({ blocks: { by: 'light', bands: 9 } }));
    if (!banded.ok || !light || !banded.value.light) throw new Error('the light is known');
    expect(banded.value.light.cvWithin).toBeLessThan(light.cvWithin);
    expect(banded.value.light.relativeEfficiency ?? 0).toBeGreaterThan(1);
    // Fisher's (f₁ + 1)(f₂ + 3) / (f₁ + 3)(f₂ + 1) with f₁ = 2 × 71 and f₂ = 72 × 2.
    expect(smallSample).toBeCloseTo((143 * 147) / (145 * 145), 12);
  });

  it('say which schemes fit this rack, and why the others do not', () => {
    const fits = new Map(schemeFitsOf(basil).map((fit) => [fit.scheme, fit.misfit]));
    expect(fits.size).toBe(7);
    expect(fits.get('split-plot')).toBeNull();
    expect(fits.get('latin-square')?.text).toContain('feed on trays, cultivar on pots');
    expect(fits.get('complete-blocks')?.remedy).toContain('split plot');
  });

  it('show what the constraint of a draw brings', () => {
    const [, cultivar] = basil.trial.factors;
    if (!cultivar) throw new Error('the example has cultivars');
    const input = trialInputOf(
      withTrial({
        factors: [cultivar],
        scheme: 'complete-blocks',
        constraint: { acceptanceShare: 0.05, balance: ['light', 'position'], likeNeighbours: null },
      }),
    );
    if (!input) throw new Error('a trial is planned');
    const { free, constrained, candidates } = tryDraw(input);
    expect(constrained.ppfdUmol ?? Infinity).toBeLessThan((free.ppfdUmol ?? 0) * 0.8);
    expect(candidates).toBeGreaterThan(5);
  });
});

describe('the spread of an earlier trial', () => {
  it('is the residual and unit variance of its findings', () => {
    const earlier = example('basil');
    const outcome = findingsOfPlan(earlier);
    if (!outcome.ok) throw new Error(outcome.missing);
    const found = spreadOf(outcome);
    if ('missing' in found) throw new Error(found.missing);
    const { variance } = outcome.findings.primary.result;
    const residual = variance.find((part) => part.unit === 'residual')?.variance ?? 0;
    expect(found.plantSd ** 2).toBeCloseTo(residual, 10);
    expect(found.unit).toBe('g');
    const trays = variance.find((part) => part.unit === 'tray')?.variance ?? NaN;
    expect(found.units?.name).toBe('tray');
    expect((found.units?.sd ?? NaN) ** 2).toBeCloseTo(Math.max(0, trays), 10);
    // From a few trays the spread may be well above what was found.
    expect(found.units?.upper).toBeGreaterThan(1.3 * (found.units?.sd ?? NaN));
    expect(spreadOf(findingsOfPlan(basil))).toHaveProperty('missing');
  }, 90_000);
});
