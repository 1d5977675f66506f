import { describe, expect, it } from 'vitest';
import { boxCoxProfile } from '../../../../renderer/engine/stats/checks';
import { buildDesign } from '../../../../renderer/engine/stats/design';
import { fitRequestSchema } from '../../../../shared-types/fit';

// Survival times of animals (unit 10 hours), three poisons by four treatments, four animals each.
// Box, G. E. P. & Cox, D. R. (1964) An analysis of transformations, J. R. Stat. Soc. B 26, Table 1.
const survival: Record<string, number[][]> = {
  I: [
    [0.31, 0.45, 0.46, 0.43],
    [0.82, 1.1, 0.88, 0.72],
    [0.43, 0.45, 0.63, 0.76],
    [0.45, 0.71, 0.66, 0.62],
  ],
  II: [
    [0.36, 0.29, 0.4, 0.23],
    [0.92, 0.61, 0.49, 1.24],
    [0.44, 0.35, 0.31, 0.4],
    [0.56, 1.02, 0.71, 0.38],
  ],
  III: [
    [0.22, 0.21, 0.18, 0.23],
    [0.3, 0.37, 0.38, 0.29],
    [0.23, 0.25, 0.24, 0.22],
    [0.3, 0.36, 0.31, 0.33],
  ],
};

const rows = Object.entries(survival).flatMap(([poison, groups]) =>
  groups.flatMap((group, i) =>
    group.map((time) => ({ poison, treatment: 'ABCD'.charAt(i), time })),
  ),
);
const table = {
  rowCount: rows.length,
  columns: {
    poison: rows.map((row) => row.poison),
    treatment: rows.map((row) => row.treatment),
    time: rows.map((row) => row.time),
  },
};
const design = buildDesign(
  fitRequestSchema.parse({
    response: 'time',
    treatments: ['poison', 'treatment'],
    interactions: 'none',
  }),
  table,
);

describe('the power transformation of the survival times', () => {
  it('is the −0.75 of the paper for the additive model, near the reciprocal', () => {
    const found = boxCoxProfile(design.x, design.y, 0.95);
    expect(found.power.toFixed(2)).toBe('-0.75');
    expect(found.lower).toBeLessThan(-1);
    expect(found.upper).toBeLessThan(0);
  });

  it('takes a power of the data back to a power of the data', () => {
    // If y has the power λ, then y² has λ/2 exactly.
    const first = boxCoxProfile(design.x, design.y, 0.95);
    const squared = boxCoxProfile(
      design.x,
      design.y.map((value) => value ** 2),
      0.95,
    );
    expect(squared.power).toBeCloseTo(first.power / 2, 6);
    expect(squared.lower).toBeCloseTo(first.lower / 2, 6);
    expect(squared.upper).toBeCloseTo(first.upper / 2, 6);
  });

  it('refuses values that are not positive', () => {
    expect(() =>
      boxCoxProfile(
        design.x,
        design.y.map((v) => v - 0.3),
        0.95,
      ),
    ).toThrow(/only positive/);
  });
});
