import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { expectClose, readCsv } from './figures';

// Source: R 4.2.2, confint(lm(Postwt ~ Prewt + Treat, MASS::anorexia), level = …).
const intervals: [number, string, number, number][] = [
  [0.95, '(intercept)', 23.049868080494, 76.492349949475],
  [0.95, 'Prewt', 0.11282675499109, 0.75609554573071],
  [0.99, '(intercept)', 14.283981271198, 85.258236758771],
  [0.99, 'Prewt', 0.0073147875379233, 0.86160751318388],
];

describe('slopes', () => {
  it.each(intervals)('have intervals: %d %s', (confidence, name, lower, upper) => {
    const asked = { response: 'Postwt', covariates: ['Prewt'], treatments: ['Treat'], confidence };
    const request = fitRequestSchema.parse(asked);
    const result = fit(request, readCsv('data/anorexia.csv', categoryColumns(request)));
    const row = result.coefficients.find((one) => one.name === name);
    expect(row).toBeDefined();
    expectClose(row?.lower, lower, 1e-9, 'lower');
    expectClose(row?.upper, upper, 1e-9, 'upper');
  });
});
