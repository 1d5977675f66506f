import { describe, expect, it } from 'vitest';
import { fit } from '../../../../renderer/engine/stats/fit';
import { stream } from '../../../../renderer/engine/trial/stream';
import { fitRequestSchema } from '../../../../shared-types/fit';
import type { Allocation } from '../../../../renderer/engine/stats/randomisation';

type Kind = 'poisson' | 'negative-binomial' | 'quasi-poisson';

/** Counts of so many rows in complete blocks of so many treatments, and how they were drawn. */
function counted(blocks: number, levels: number, seed: string, effect = 0) {
  const random = stream('few counts', seed);
  const rows = Array.from({ length: levels * blocks }, (_, i) => i);
  const feed = rows.map((i) => `f${i % levels}`);
  const columns = {
    block: rows.map((i) => `b${Math.floor(i / levels)}`),
    feed,
    n: rows.map((i) => random.integer(9) + random.integer(9) + (i % levels === 0 ? effect : 0)),
  };
  const allocation: Allocation = {
    factors: ['feed'],
    runs: 399,
    seed,
    within: 'block',
    anew: null,
    groups: Int32Array.from(rows, (i) => Math.floor(i / levels)),
    levels: feed.map((level) => [level]),
  };
  const fitted = (counts: Kind, drawn: boolean) => {
    const request = fitRequestSchema.parse({
      response: 'n',
      counts,
      treatments: ['feed'],
      tests: 'marginal',
      fixedBlocks: blocks > 12 ? [] : ['block'],
      compare: ['none', 'tukey'].map((method) => ({
        means: ['feed'],
        by: [],
        method,
        against: null,
      })),
    });
    return fit(request, { columns, rowCount: rows.length }, drawn ? allocation : null);
  };
  return fitted;
}

describe('counts that are few for their coefficients', () => {
  it('are warned of, with the way on, where they vary more than Poisson, and no others', () => {
    const told = 'Few counts for their coefficients (24 for 9)';
    const few = counted(6, 4, 'warned');
    for (const kind of ['negative-binomial', 'quasi-poisson'] as const) {
      const text = few(kind, false).warnings.join(' ');
      expect(text).toContain(told);
      expect(text).toContain('Square roots keep to the level.');
      expect(counted(13, 4, 'many')(kind, false).warnings.join(' ')).not.toContain('Few counts');
    }
    expect(few('poisson', false).warnings.join(' ')).not.toContain('Few counts');
  });

  it('are judged by layouts where chance drew them, and then not warned of', () => {
    for (const kind of ['negative-binomial', 'quasi-poisson'] as const) {
      const { terms, warnings, method } = counted(6, 4, 'judged')(kind, true);
      const feed = terms.find(({ term }) => term === 'feed');
      expect(feed?.randomised).toMatchObject({ layouts: 399, exact: false, approximate: false });
      expect(warnings.join(' ')).not.toContain('Few counts');
      expect(method).toContain('their errors by the Pearson dispersion');
    }
    expect(counted(6, 4, 'judged')('poisson', true).terms[1]?.randomised).toBeUndefined();
    expect(counted(13, 4, 'many')('quasi-poisson', true).terms[0]?.randomised).toBeUndefined();
  });

  it('differ in two levels exactly where the interval leaves out a ratio of one', () => {
    const shown = { yes: 0, no: 0 };
    for (const kind of ['negative-binomial', 'quasi-poisson'] as const) {
      for (let set = 0; set < 6; set++) {
        const { terms, comparisons } = counted(8, 2, `pair ${set}`, set)(kind, true);
        const feed = terms.find(({ term }) => term === 'feed');
        for (const { rows } of comparisons) {
          const [row] = rows;
          if (!row) throw new Error('two levels are a pair');
          expect(row.p).toBe(feed?.p);
          const differs = row.p < 0.05;
          expect(row.lower > 0 || row.upper < 0).toBe(differs);
          shown[differs ? 'yes' : 'no']++;
        }
      }
    }
    expect(shown.yes).toBeGreaterThan(0);
    expect(shown.no).toBeGreaterThan(0);
  });

  it('have the estimates of maximum likelihood all the same', () => {
    const few = counted(6, 4, 'estimates');
    const [by, without] = [few('quasi-poisson', true), few('quasi-poisson', false)];
    by.comparisons[0]?.rows.forEach((row, i) => {
      const model = without.comparisons[0]?.rows[i];
      expect(row.difference).toBeCloseTo(model?.difference ?? NaN, 8);
      expect(row.se).toBeCloseTo(model?.se ?? NaN, 6);
    });
  });
});
