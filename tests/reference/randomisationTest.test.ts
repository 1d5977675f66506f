import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import type { FitResult } from '../../shared-types/fit';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { expectClose, figure, readCsv, readSets } from './figures';

// Source: tests/reference/expected/11-randomisation.json, every arrangement listed.
const sets = readSets('11-randomisation');

interface Exact {
  arrangements: number;
  at_least_as_large: number;
  F_observed: number;
  p_exact: number;
  p_F: number;
}

function run(set: string, asked: object): FitResult {
  const request = fitRequestSchema.parse(asked);
  return fit(request, readCsv(sets[set]?.file ?? '', categoryColumns(request)));
}

describe('every arrangement', () => {
  it.each([
    ['sleep', 'within_block_permutations', 'extra', 'group', 'ID'],
    ['sleep', 'free_permutations', 'extra', 'group', null],
    ['oats_without_nitrogen', 'within_block_permutations', 'yield', 'Variety', 'Block'],
    ['oats_main_plots', 'within_block_permutations', 'yield', 'Variety', 'Block'],
    ['nine_pots', 'free_permutations', 'y', 'trt', null],
  ])('%s, %s', (set, name, response, treatment, block) => {
    const blocks = block === null ? [] : [block];
    for (const tests of ['sequential', 'marginal']) {
      const result = run(set, {
        response,
        treatments: [treatment],
        fixedBlocks: blocks,
        tests,
        redraw: { within: blocks, runs: 'all' },
      });
      const want = figure<Exact>(sets, set, name);
      const term = result.terms.find((row) => row.term === treatment);
      expectClose(term?.statistic, want.F_observed, 1e-10, 'F');
      expectClose(term?.p, want.p_F, 1e-9, 'p of F');
      expect(result.redraw).toEqual({
        runs: want.arrangements,
        asExtreme: want.at_least_as_large,
        p: want.p_exact,
        exact: true,
        term: treatment,
      });
    }
  });

  it('moves whole main plots: as many arrangements as varieties over blocks', () => {
    const set = readSets('04-strata-mixed')['oats'];
    const request = fitRequestSchema.parse({
      response: 'yield',
      treatments: ['Variety', 'nitro'],
      fixedBlocks: ['Block'],
      // A main plot is named by its variety within its block.
      redraw: { within: ['Block'], unit: ['Variety'], runs: 'all' },
    });
    const result = fit(request, readCsv(set?.file ?? '', categoryColumns(request)));
    // 3! ways in each of six blocks, as recorded for the means of the main plots.
    expect(result.redraw?.runs).toBe(46656);
    expect(result.redraw?.term).toBe('Variety');
  });
});

describe('random arrangements', () => {
  const asked = {
    response: 'yield',
    treatments: ['Variety'],
    fixedBlocks: ['Block'],
    redraw: { within: ['Block'], runs: 20000, seed: 'harvest' },
  };

  it('come within Monte Carlo error of the exact p, and repeat with their seed', () => {
    const exact = figure<Exact>(sets, 'oats_main_plots', 'within_block_permutations').p_exact;
    const first = run('oats_main_plots', asked).redraw;
    const again = run('oats_main_plots', asked).redraw;
    const other = run('oats_main_plots', {
      ...asked,
      redraw: { ...asked.redraw, seed: 'another' },
    }).redraw;
    const error = Math.sqrt((exact * (1 - exact)) / 20000);
    expect(Math.abs((first?.p ?? 0) - exact)).toBeLessThan(4 * error);
    expect(first?.p).toBe((1 + (first?.asExtreme ?? 0)) / 20001);
    expect(again).toEqual(first);
    expect(other?.asExtreme).not.toBe(first?.asExtreme);
  });
});

describe('refusals', () => {
  it('says how many arrangements are too many', () => {
    // 20! / (10! 10!) = 184756 is listed; 36! / (12!)³ is not.
    const request = fitRequestSchema.parse({
      response: 'decrease',
      treatments: ['treatment'],
      redraw: { runs: 'all' },
    });
    const file = readSets('04-strata-mixed')['orchardsprays']?.file ?? '';
    expect(() => fit(request, readCsv(file, ['treatment']))).toThrow(/there are .* arrangements/);
  });

  it('wants treatments whole on units and a term of the model', () => {
    const file = readSets('04-strata-mixed')['oats']?.file ?? '';
    const redraw = (spec: object) => {
      const request = fitRequestSchema.parse({
        response: 'yield',
        treatments: ['Variety', 'nitro'],
        redraw: { runs: 99, ...spec },
      });
      return () => fit(request, readCsv(file, categoryColumns(request)));
    };
    expect(redraw({ unit: ['Block', 'Variety'], term: 'nitro' })).toThrow(
      /nitro varies within units/,
    );
    expect(redraw({ unit: ['Block'] })).toThrow(/no treatment is the same on all rows of a Block/);
    expect(redraw({ term: 'water' })).toThrow(/found the term "water"; expected one of Variety/);
  });
});
