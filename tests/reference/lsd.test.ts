import { expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { expectClose, readCsv } from './figures';

// Source: R 4.2.2, m <- lm(weight ~ group, PlantGrowth); qt(.975, 27) * sqrt(2 * deviance(m)/27/10).
it('every comparison has its least significant difference, whatever its adjustment', () => {
  const compare = ['none', 'tukey'].map((method) => ({ means: 'group', method }));
  const request = fitRequestSchema.parse({ response: 'weight', treatments: ['group'], compare });
  const result = fit(request, readCsv('data/plantgrowth.csv', categoryColumns(request)));
  const rows = result.comparisons.flatMap((table) => table.rows);
  expect(rows).toHaveLength(6);
  for (const { lsd } of rows) expectClose(lsd, 0.572012611559963, 1e-10, 'lsd');
});
