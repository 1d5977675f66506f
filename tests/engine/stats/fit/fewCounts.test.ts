import { expect, it } from 'vitest';
import { fit } from '../../../../renderer/engine/stats/fit';
import { stream } from '../../../../renderer/engine/trial/stream';
import { fitRequestSchema } from '../../../../shared-types/fit';

/** Counts of so many rows in complete blocks of four treatments. */
function warningsOf(blocks: number, kind: 'negative-binomial' | 'quasi-poisson'): string {
  const random = stream('few counts', String(blocks));
  const rows = Array.from({ length: 4 * blocks }, (_, i) => i);
  const columns = {
    block: rows.map((i) => `b${Math.floor(i / 4)}`),
    feed: rows.map((i) => `f${i % 4}`),
    n: rows.map(() => random.integer(9) + random.integer(9)),
  };
  const request = fitRequestSchema.parse({
    ...{ response: 'n', counts: kind, treatments: ['feed'] },
    fixedBlocks: blocks > 6 ? [] : ['block'],
  });
  return fit(request, { columns, rowCount: rows.length }).warnings.join(' ');
}

it('negative binomial tests of few counts for their coefficients are warned of, and no others', () => {
  const told = 'Negative binomial tests call too many differences here: 9 coefficients';
  expect(warningsOf(6, 'negative-binomial')).toContain(told);
  expect(warningsOf(6, 'quasi-poisson')).not.toContain('too many differences');
  expect(warningsOf(7, 'negative-binomial')).not.toContain('too many differences');
});
