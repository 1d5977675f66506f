import { describe, expect, it } from 'vitest';
import { noncentralFUpper } from '../../../../renderer/engine/stats/distributions';
import {
  criticalF,
  detectableNoncentrality,
  firstReaching,
  power,
  powerForDifference,
  powerOfTerm,
} from '../../../../renderer/engine/trial/power';
import { powerRequestSchema, type PowerRequestInput } from '../../../../shared-types/power';

const ask = (request: PowerRequestInput): ReturnType<typeof power> =>
  power(powerRequestSchema.parse(request));

describe('power', () => {
  it('without an effect is the level of the test', () => {
    const none = { dfEffect: 3, dfError: 17.5, alpha: 0.05, noncentrality: 0 };
    expect(powerOfTerm(none)).toBeCloseTo(0.05, 13);
  });

  it('undoes the noncentrality that it detects', () => {
    const stratum = { dfEffect: 2, dfError: 9, alpha: 0.01 };
    const noncentrality = detectableNoncentrality({ ...stratum, power: 0.73 });
    expect(powerOfTerm({ ...stratum, noncentrality })).toBeCloseTo(0.73, 12);
  });

  it('splits three-factor means into terms whose squares add up', () => {
    // Parseval: the total variance of the cell means is the sum over the terms of f² sd².
    const means = [
      [
        [1, 4],
        [2, 2.5],
        [7, 3],
      ],
      [
        [3, 3],
        [0, 6],
        [2, 2],
      ],
    ];
    const got = ask({ treatments: { a: 2, b: 3, c: 2 }, unitsPerCell: 4, sd: 2, means });
    const flat = means.flat(2);
    const centre = flat.reduce((sum, mean) => sum + mean, 0) / flat.length;
    const variance = flat.reduce((sum, mean) => sum + (mean - centre) ** 2, 0) / flat.length;
    expect(got.terms.map((row) => row.term)).toEqual([
      'a',
      'b',
      'c',
      'a × b',
      'a × c',
      'b × c',
      'a × b × c',
    ]);
    expect(got.terms.reduce((sum, row) => sum + 4 * row.f ** 2, 0)).toBeCloseTo(variance, 12);
  });

  it('additive means have no interaction, however large they are', () => {
    const means = [
      [1000.1, 1000.3],
      [1000.4, 1000.6],
    ];
    const got = ask({ treatments: { a: 2, b: 2 }, sd: 0.3, means, solve: 'units', power: 0.9 });
    expect(got.terms[2]).toMatchObject({ term: 'a × b', f: 0, unitsNeeded: null });
    expect(got.unitsPerCell).toBe(got.terms[1]?.unitsNeeded);
  });

  it('looks only at the terms asked for', () => {
    const means = [
      [0, 0.1],
      [2, 2.1],
    ];
    const request = {
      treatments: { a: 2, b: 2 },
      sd: 1,
      means,
      solve: 'units',
      power: 0.8,
    } as const;
    const got = ask({ ...request, for: ['a'] });
    expect(got.unitsPerCell).toBeLessThan(10);
    expect(got.terms[1]?.unitsNeeded).toBeNull();
    // Large numbers: n per level = 2 (z.975 + z.8)² / d², here of 0.1 SD, two cells a level.
    const perLevel = (2 * (1.959964 + 0.841621) ** 2) / 0.01;
    expect(Math.abs(ask(request).unitsPerCell - perLevel / 2)).toBeLessThan(2);
  });

  it('says where blocks and units do not go together', () => {
    const request = { treatments: { a: 3 }, effect: { f: 0.6, of: 'a' } } as const;
    expect(ask({ ...request, unitsPerCell: 4, blocks: 6 }).notes[0]).toContain('too hopeful');
    expect(ask({ ...request, solve: 'units', power: 0.8, blocks: 4 }).notes[0]).toContain('12 do');
  });

  it('names what was wrong', () => {
    const base = { treatments: { light: 2, medium: 3 }, unitsPerCell: 5, sd: 1 };
    expect(() =>
      ask({
        ...base,
        means: [
          [1, 2],
          [1, 2],
        ],
      }),
    ).toThrow('means[0]: a list of 2; expected a list of 3, one for each level of medium');
    expect(() => ask({ ...base, means: [1, 2] })).toThrow('means[0]: the number 1');
    expect(() => ask({ ...base, effect: { f: 0.2, of: 'feed' } })).toThrow(
      'effect.of: no factor feed; expected one of light, medium',
    );
    expect(() => ask({ treatments: { a: 4 }, unitsPerCell: 1, effect: { f: 1, of: 'a' } })).toThrow(
      'leaves 0 degrees of freedom for error',
    );
    expect(() =>
      ask({ treatments: { a: 2 }, sd: 1, means: [3, 3], solve: 'units', power: 0.8 }),
    ).toThrow('means: all equal');
    expect(() =>
      ask({ treatments: { a: 2 }, effect: { f: 1e-5, of: 'a' }, solve: 'units', power: 0.8 }),
    ).toThrow('more than 1000000 units');
  });

  it('refuses incomplete requests with the path', () => {
    const issues = (request: unknown): string[] =>
      (powerRequestSchema.safeParse(request).error?.issues ?? []).map((issue) =>
        issue.path.join('.'),
      );
    expect(issues({ treatments: { a: 2 }, sd: 1, means: [0, 1] })).toEqual(['unitsPerCell']);
    expect(issues({ treatments: { a: 2 }, means: [0, 1], unitsPerCell: 4 })).toEqual(['sd']);
    expect(issues({ treatments: { a: 2 }, unitsPerCell: 4 })).toEqual(['means']);
    expect(issues({ treatments: {}, unitsPerCell: 4, sd: 1, means: [1] })).toEqual(['treatments']);
    expect(issues({ treatments: { a: 1 }, unitsPerCell: 4, sd: 1, means: [1] })).toEqual([
      'treatments.a',
    ]);
    expect(
      issues({ treatments: { a: 2 }, unitsPerCell: 4, sd: 1, solve: 'difference', power: 0.01 }),
    ).toEqual(['power']);
  });
});

describe('a factor on its own units', () => {
  const pots = { potsPerUnit: 1, plantSd: 2, unitSd: 0, dfError: 14, alpha: 0.05 };

  it('unequal numbers of two levels: the variance of the difference decides', () => {
    // λ = d² / (σ² (1/n₁ + 1/n₂)): the square of the noncentrality of the two-sample t.
    const got = powerForDifference({ ...pots, unitsPerLevel: [4, 12] }, 3);
    const noncentrality = 9 / (4 * (1 / 4 + 1 / 12));
    expect(got).toBeCloseTo(
      powerOfTerm({ dfEffect: 1, dfError: 14, alpha: 0.05, noncentrality }),
      13,
    );
  });

  it('says that no number reaches the power', () => {
    expect(firstReaching([{ unitsPerLevel: 1, dfError: 0, power: null }], 0.8)).toBeNull();
  });

  it('names what was wrong', () => {
    expect(() => powerForDifference({ ...pots, unitsPerLevel: [4] }, 3)).toThrow('1 levels');
    expect(() => powerForDifference({ ...pots, unitsPerLevel: [4, 0] }, 3)).toThrow(
      '0 units carry a level',
    );
    expect(() => powerForDifference({ ...pots, plantSd: 0, unitsPerLevel: [4, 4] }, 3)).toThrow(
      'SD 0 between plants and 0 between units',
    );
    expect(() => powerForDifference({ ...pots, dfError: 0, unitsPerLevel: [1, 1] }, 3)).toThrow(
      'degrees of freedom for error are 0',
    );
  });
});

describe('a power that rounds to 1', () => {
  it.each([
    [1, 1],
    [2, 4],
    [3, 66],
    [6, 5000],
  ])(
    'is told from the noncentrality alone only where the series gives it too: df %i, %i',
    (df, dfError) => {
      // Around the place where the bound takes over, the exact series must be at 1 already.
      const stratum = { dfEffect: df, dfError, alpha: 0.05 };
      const critical = criticalF(stratum);
      for (let noncentrality = 100; noncentrality < 1e6; noncentrality *= 1.3) {
        if (powerOfTerm({ ...stratum, noncentrality }) < 1) continue;
        expect(noncentralFUpper(critical, df, dfError, noncentrality)).toBeGreaterThan(1 - 1e-12);
        return;
      }
      throw new Error('the power never reaches 1');
    },
  );
});
