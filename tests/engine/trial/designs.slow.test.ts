import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  drawLayout,
  layoutNotices,
  trialNotices,
  unitsOf,
  verifyLayout,
} from '../../../renderer/engine/trial';
import type { TrialInput } from '../../../renderer/engine/trial';

import { misfitsOf } from '../../../renderer/engine/trial/fit/fit';
import { siteOf } from '../../../renderer/engine/trial/site/siteOf';
import type { Site } from '../../../renderer/engine/trial/site/site';
import type { Layout } from '../../../shared-types/layout';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import {
  domedLight,
  drawn,
  factorOf,
  inputOf,
  rackOf,
  trialOf,
  withTimes,
} from '../../builders/trialInput';
import { levelNumbersOf, plannedStrata, testStrata } from './strataSums';

const blocks = fc.constantFrom<Trial['blocks']>(
  { by: 'none' },
  { by: 'shelf' },
  { by: 'tray' },
  { by: 'tray-halves' },
  { by: 'tray-quarters' },
  { by: 'rows', perBlock: 2 },
  { by: 'columns', perBlock: 3 },
  { by: 'light', bands: 4 },
);
const scheme = fc.constantFrom<Trial['scheme']>(
  'completely-randomised',
  'complete-blocks',
  'split-plot',
  'latin-square',
  'row-and-column',
  'incomplete-blocks',
);
const factor = fc.record({
  unit: fc.constantFrom<Factor['unit']>('shelf', 'tray', 'pot'),
  levels: fc.integer({ min: 1, max: 4 }),
  /** How often the first level is drawn where another is drawn once. */
  times: fc.constantFrom(1, 1, 1, 1, 2),
});
const shape = {
  shelves: fc.integer({ min: 1, max: 4 }),
  trays: fc.integer({ min: 1, max: 4 }),
  rows: fc.integer({ min: 1, max: 4 }),
  columns: fc.integer({ min: 1, max: 6 }),
  likeNeighbours: fc.constantFrom(null, 3),
  acceptanceShare: fc.constantFrom(1, 0.2),
  seed: fc.string({ minLength: 1, maxLength: 5 }),
};
const chained = fc.record({
  ...shape,
  factors: fc.array(factor, { minLength: 1, maxLength: 3 }),
  blocks,
  scheme,
});
const on = (unit: Factor['unit'], most: number) =>
  fc.record({
    unit: fc.constant(unit),
    levels: fc.integer({ min: 1, max: most }),
    times: fc.constantFrom(1, 1, 1, 2),
  });
const crossing = fc.record({
  ...shape,
  factors: fc.oneof(
    fc.tuple(on('row-strip', 3), on('column-strip', 3)),
    fc.tuple(on('row-strip', 2), on('column-strip', 3), on('pot', 2)),
    fc.tuple(on('row-strip', 2), on('row-strip', 2), on('column-strip', 2)),
  ),
  blocks,
  scheme: fc.constant<Trial['scheme']>('strip-plot'),
});
const design = fc.oneof({ weight: 4, arbitrary: chained }, { weight: 1, arbitrary: crossing });

/** The counted error degrees of freedom are those that sweeping out the drawn layout leaves. */
function expectRanks(
  input: TrialInput,
  layout: Layout,
  factors: ReturnType<typeof unitsOf>['factors'],
): void {
  const site = siteOf(input);
  const byPot = new Map(layout.assignments.map((a) => [a.potId, a.levels]));
  const levels = levelNumbersOf(site, (potId) => byPot.get(potId));
  const n = site.pots.length;
  const y = Float64Array.from({ length: n }, (_, i) => (i * i) % 7);
  for (const plan of plannedStrata(site, levels)) {
    const tests = testStrata([plan], [y], new Uint8Array(n).fill(1));
    // In a handful of pots an effect may fall together with blocks by lot: the error keeps its df.
    const lost = tests.reduce((sum, test) => sum + nominalDf(site, test.factorIds) - test.df, 0);
    for (const one of factors) {
      const test = tests.find((t) => t.factorIds.join() === one.factorId);
      if (test) expect(test.dfError).toBe(one.errorDf + lost);
    }
  }
}

const nominalDf = (site: Site, factorIds: readonly string[]): number =>
  site.trial.factors
    .filter((factor) => factorIds.includes(factor.id))
    .reduce((df, factor) => df * (factor.levels.length - 1), 1);

describe('any design', () => {
  it('either says why it does not fit, or is drawn whole, verifies and adds up', () => {
    let fitted = 0;
    let strips = 0;
    fc.assert(
      fc.property(design, (d) => {
        const rack = rackOf({
          shelves: d.shelves,
          traysPerShelf: d.trays,
          rows: d.rows,
          columns: d.columns,
        });
        const trial = trialOf(
          d.factors.map((f, i) => withTimes(factorOf(i + 1, f.unit, f.levels), { 1: f.times })),
          {
            blocks: d.blocks,
            scheme: d.scheme,
            constraint: {
              acceptanceShare: d.acceptanceShare,
              balance: ['light', 'position'],
              likeNeighbours: d.likeNeighbours,
            },
          },
        );
        const input = inputOf(rack, trial, domedLight(rack, 0.2));
        const misfits = misfitsOf(siteOf(input));
        const before = trialNotices({ ...input, layout: null });
        for (const notice of before) {
          expect(notice.text).not.toMatch(/NaN|undefined|Infinity/);
          expect(notice.remedy).not.toBe('');
        }
        const draw = () => drawLayout({ ...input, ...drawn, seed: d.seed }).layout;
        if (misfits.length > 0) {
          expect(draw).toThrow(misfits[0]?.text ?? '');
          expect(before.some((notice) => notice.severity === 'stop')).toBe(true);
          return;
        }
        const layout = draw();
        fitted++;
        if (d.scheme === 'strip-plot') strips++;
        expect(layout.assignments).toHaveLength(d.shelves * d.trays * d.rows * d.columns);
        for (const a of layout.assignments) {
          expect(Object.keys(a.levels).sort()).toEqual(trial.factors.map((f) => f.id).sort());
        }
        expect(verifyLayout(input, layout)).toEqual({ redrawn: true, differing: [], said: [] });
        expect(layoutNotices({ ...input, layout })).toEqual([]);
        const { skeleton, factors } = unitsOf(input);
        const total = skeleton.reduce((sum, row) => sum + row.df, 0);
        // More effects than units in a stratum leave an error of no degrees of freedom.
        if (skeleton.every((row) => !row.isError || row.df > 0)) {
          expect(total).toBe(layout.assignments.length - 1);
          expectRanks(input, layout, factors);
        }
      }),
      { numRuns: 120, seed: 11 },
    );
    expect(fitted).toBeGreaterThan(12);
    expect(strips).toBeGreaterThan(0);
  });
});
