import { describe, expect, it } from 'vitest';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { fitRequestSchema } from '../../shared-types/fit';
import { readCsv } from './figures';

// Source: tests/reference/make/26-randomisation-ar1.R (R 4.2.2): REML of the variance parameters without the
// feeds, then the F of feed by generalised least squares for all 216 layouts.
const request = {
  response: 'y',
  treatments: ['feed'],
  interactions: 'none',
  fixedBlocks: ['tray'],
  tests: 'marginal',
  denominator: 'kenward-roger',
  redraw: { within: ['tray'], unit: ['row'], runs: 'all' },
};
const position = { row: 'row', column: 'column', within: ['tray'] };

function redrawn(asked: object) {
  const parsed = fitRequestSchema.parse({ ...request, ...asked });
  return fit(parsed, readCsv('data/randomisation_ar1.csv', categoryColumns(parsed)));
}

describe('a randomisation test with likeness of neighbours', () => {
  it('counts the layouts that the generalised F of R counts', () => {
    const { redraw, method } = redrawn({ position: { ...position, model: 'ar1' } });
    expect(redraw).toMatchObject({ runs: 216, asExtreme: 12, exact: true, term: 'feed' });
    expect(method).toContain('generalised least squares');
  });

  it('counts differently without it, and takes a smooth surface too', () => {
    expect(redrawn({}).redraw?.asExtreme).not.toBe(12);
    const smooth = redrawn({ position: { ...position, model: 'smooth' } });
    expect(smooth.redraw?.runs).toBe(216);
    expect(smooth.redraw?.asExtreme).toBeGreaterThan(0);
    expect(smooth.method).toContain('generalised least squares');
  });
});
