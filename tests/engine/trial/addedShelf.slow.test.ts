import { describe, expect, it } from 'vitest';
import { drawLayout, prepareDraw } from '../../../renderer/engine/trial';
import type { Rack } from '../../../shared-types/rack';
import type { Factor } from '../../../shared-types/trial/trial';
import type { Blocks, Scheme } from '../../../shared-types/trial/scheme';
import {
  domedLight,
  drawn,
  factorOf,
  inputOf,
  rackOf,
  trialOf,
  withTimes,
} from '../../builders/trialInput';

const three = rackOf({ shelves: 3, traysPerShelf: 2, rows: 4, columns: 4 });
const four = rackOf({ shelves: 4, traysPerShelf: 2, rows: 4, columns: 4 });

/** The fourth shelf hung between the first and the second, which moves the numbers of the others on. */
const between: Rack = {
  ...four,
  shelves: [0, 3, 1, 2].flatMap((at, i) => {
    const shelf = four.shelves[at];
    return shelf ? [{ ...shelf, number: i + 1 }] : [];
  }),
};

const pots = (levels: number): Factor[] => [factorOf(1, 'pot', levels)];
const strips = [factorOf(1, 'row-strip', 2), factorOf(2, 'column-strip', 2)];
const whole = [factorOf(1, 'tray', 2), factorOf(2, 'pot', 4)];
const free = { acceptanceShare: 1, balance: [], likeNeighbours: null };
const bound = { acceptanceShare: 0.5, balance: ['light', 'position'], likeNeighbours: 3 } as const;

const within: Blocks[] = [
  { by: 'shelf' },
  { by: 'tray' },
  { by: 'tray-halves' },
  { by: 'tray-quarters' },
  { by: 'rows', perBlock: 2 },
  { by: 'columns', perBlock: 2 },
];
const cases: [string, Scheme, Blocks, Factor[]][] = [
  ...within.map((blocks): [string, Scheme, Blocks, Factor[]] => [
    `complete blocks by ${blocks.by}`,
    'complete-blocks',
    blocks,
    pots(3),
  ]),
  ['complete blocks with places left over', 'complete-blocks', { by: 'tray' }, pots(5)],
  [
    'a double control',
    'complete-blocks',
    { by: 'tray' },
    [withTimes(factorOf(1, 'pot', 4), { 1: 2 })],
  ],
  ['complete blocks of whole trays', 'complete-blocks', { by: 'shelf' }, [factorOf(1, 'tray', 2)]],
  ['Latin squares', 'latin-square', { by: 'none' }, pots(2)],
  ['rows and columns', 'row-and-column', { by: 'none' }, pots(5)],
  ['rows and columns in halves', 'row-and-column', { by: 'tray-halves' }, pots(5)],
  ['a split plot', 'split-plot', { by: 'shelf' }, whole],
  [
    'a split plot with blocks in trays',
    'split-plot',
    { by: 'shelf' },
    [...whole, factorOf(3, 'pot', 2)],
  ],
  ['a strip plot', 'strip-plot', { by: 'tray' }, strips],
  [
    'a strip plot in halves',
    'strip-plot',
    { by: 'tray-halves' },
    [...strips, factorOf(3, 'pot', 2)],
  ],
];

const levelsOf = (
  rack: Rack,
  scheme: Scheme,
  blocks: Blocks,
  factors: Factor[],
  limits: typeof free | typeof bound,
) => {
  // Rows and columns under a cap take long to try thousands of times, and their cap draws on no more.
  const likeNeighbours = scheme === 'row-and-column' ? null : limits.likeNeighbours;
  const constraint = { ...limits, balance: [...limits.balance], likeNeighbours };
  const trial = trialOf(factors, { scheme, blocks, constraint });
  const input = inputOf(rack, trial, domedLight(rack, 0.2));
  const { assignments } = drawLayout({ ...input, ...drawn, seed: 'grow' }).layout;
  return new Map(assignments.map((a) => [a.potId, a.levels] as const));
};

describe('an added shelf leaves the draws of the others alone', () => {
  it.each(cases)('%s', (_, scheme, blocks, factors) => {
    for (const limits of [free, bound]) {
      const before = levelsOf(three, scheme, blocks, factors, limits);
      for (const rack of [four, between]) {
        const after = levelsOf(rack, scheme, blocks, factors, limits);
        expect(after.size).toBe(before.size + 32);
        for (const [potId, levels] of before) expect(after.get(potId)).toEqual(levels);
      }
    }
  });

  it('also where the shelves are so small that a share of few draws is raised', () => {
    // Two pots a treatment on a shelf: the first shelf alone has six layouts, the fourth makes many.
    const small = [3, 5].map((shelves) =>
      rackOf({ shelves, traysPerShelf: 1, rows: 1, columns: 4 }),
    );
    const limits = { ...bound, acceptanceShare: 0.001, likeNeighbours: null };
    const trial = trialOf(pots(2), {
      scheme: 'complete-blocks',
      blocks: { by: 'shelf' },
      constraint: { ...limits, balance: [...limits.balance] },
    });
    for (const seed of ['a', 'b', 'c', 'd']) {
      const [before, after] = small.map((rack) =>
        drawLayout({ ...inputOf(rack, trial, domedLight(rack, 0.2)), ...drawn, seed }),
      );
      const kept = before?.layout.assignments ?? [];
      expect(after?.layout.assignments.slice(0, 12)).toEqual(kept);
      expect(after?.report.stages.slice(0, 3)).toEqual(before?.report.stages);
    }
  });

  it('pots of a split plot too, where whole shelves are drawn over the rack', () => {
    const factors = [factorOf(1, 'shelf', 2), factorOf(2, 'pot', 4)];
    const before = levelsOf(three, 'split-plot', { by: 'none' }, factors, free);
    const after = levelsOf(four, 'split-plot', { by: 'none' }, factors, free);
    for (const [potId, levels] of before) expect(after.get(potId)?.f2).toBe(levels.f2);
  });

  it('is not promised where treatments are shared out over all shelves, which the draw says', () => {
    const limits: [Scheme, Blocks, Factor[]][] = [
      ['completely-randomised', { by: 'none' }, pots(3)],
      ['completely-randomised', { by: 'none' }, [factorOf(1, 'shelf', 2)]],
      ['complete-blocks', { by: 'light', bands: 4 }, pots(3)],
      ['incomplete-blocks', { by: 'rows', perBlock: 1 }, pots(14)],
    ];
    for (const [scheme, blocks, factors] of limits) {
      const input = inputOf(three, trialOf(factors, { scheme, blocks }), domedLight(three, 0.2));
      expect(
        prepareDraw(input)
          .draw('x')
          .stages.map((stage) => stage.name),
      ).toEqual(['rack']);
    }
    const apart = inputOf(
      three,
      trialOf(pots(3), { scheme: 'complete-blocks', blocks: { by: 'shelf' } }),
    );
    const names = prepareDraw(apart)
      .draw('x')
      .stages.map((stage) => stage.name);
    expect(names).toEqual(['s1', 's2', 's3']);
  });
});
