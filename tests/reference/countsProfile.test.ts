import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { expectClose, readCsv } from './figures';

// Source: expected/25-profile-counts.json, by R's glm and uniroot (make/25-profile-counts.R).
type Limits = Record<'difference' | 'statistic' | 'p' | 'lower' | 'upper', number>;
const figures = JSON.parse(
  readFileSync(new URL('./expected/25-profile-counts.json', import.meta.url), 'utf8'),
) as Record<string, Limits>;

const sprays = { response: 'count', treatments: ['spray'] };
const quine = { response: 'Days', treatments: ['Eth', 'Sex', 'Age', 'Lrn'], interactions: 'none' };
const cases = [
  ['sprays_C_E', 'insectsprays', sprays, 'poisson', 'spray', 'C', 'E'],
  ['sprays_C_E_quasi', 'insectsprays', sprays, 'quasi-poisson', 'spray', 'C', 'E'],
  ['quine_Sex', 'quine', quine, 'poisson', 'Sex', 'F', 'M'],
  ['quine_Eth_quasi', 'quine', quine, 'quasi-poisson', 'Eth', 'A', 'N'],
  ['quine_Lrn_negbin', 'quine', quine, 'negative-binomial', 'Lrn', 'AL', 'SL'],
] as const;

describe('single differences of counts', () => {
  it.each(cases)(
    'have tests and limits by likelihood: %s',
    (name, file, asked, counts, of, a, b) => {
      const compare = [{ means: of, method: 'none' }];
      const request = fitRequestSchema.parse({ ...asked, counts, compare });
      const result = fit(request, readCsv(`data/${file}.csv`, categoryColumns(request)));
      const row = result.comparisons[0]?.rows.find((one) => one.a === a && one.b === b);
      const want = figures[name];
      // θ is known to 1e-7 on either side.
      const relative = counts === 'negative-binomial' ? 1e-6 : 1e-9;
      for (const key of ['difference', 'statistic', 'lower', 'upper'] as const) {
        expectClose(row?.[key], want?.[key], relative, key);
      }
      expectClose(row?.p, want?.p, 100 * relative, 'p', 0);
      // What the standard error alone would give lies elsewhere.
      expect(Math.abs((row?.wald?.lower ?? 0) - (row?.lower ?? 0))).toBeGreaterThan(1e-5);
    },
  );
});
