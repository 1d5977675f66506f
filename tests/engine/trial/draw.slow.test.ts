import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chiSquareUpper } from '../../../renderer/engine/stats/distributions';
import {
  applySwaps,
  drawLayout,
  layoutState,
  treatmentKey,
  verifyLayout,
} from '../../../renderer/engine/trial';
import type { TrialInput } from '../../../renderer/engine/trial';
import type { Layout } from '../../../shared-types/layout';
import type { Trial } from '../../../shared-types/trial/trial';
import {
  domedLight,
  drawn,
  factorOf,
  inputOf,
  rackOf,
  soundSplitPlot,
  trialOf,
} from '../../builders/trialInput';

const layoutOf = (input: TrialInput, seed: string): Layout =>
  drawLayout({ ...input, ...drawn, seed }).layout;

const counts = (values: string[]): Record<string, number> => {
  const out: Record<string, number> = {};
  for (const value of values) out[value] = (out[value] ?? 0) + 1;
  return out;
};

const SEEDS = 1000;

/** Whether each treatment falls on each pot equally often over `SEEDS` draws, at the 0.1 % point. */
function expectEvenOverSeeds(input: TrialInput): void {
  const layouts = Array.from({ length: SEEDS }, (_, seed) => layoutOf(input, `seed ${seed}`));
  for (const { id: factorId, levels } of input.trial.factors) {
    const tally = new Map<string, number[]>();
    for (const a of layouts.flatMap(({ assignments }) => assignments)) {
      const list = tally.get(a.potId) ?? levels.map(() => 0);
      const number = Number(a.levels[factorId]?.slice(-2)) - 1;
      list[number] = (list[number] ?? 0) + 1;
      tally.set(a.potId, list);
    }
    const expected = SEEDS / levels.length;
    const worst = [...tally.values()].map((list) =>
      list.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0),
    );
    // Bonferroni over the pots.
    for (const value of worst) {
      expect(chiSquareUpper(value, levels.length - 1)).toBeGreaterThan(0.001 / worst.length);
    }
  }
}

describe('the draw', () => {
  it('gives the same layout for the same seed and another for another', () => {
    const input = soundSplitPlot();
    expect(layoutOf(input, 'one')).toEqual(layoutOf(input, 'one'));
    expect(layoutOf(input, 'one').assignments).not.toEqual(layoutOf(input, 'two').assignments);
  });

  it('holds every nutrient once in every shelf and every cultivar six times in every tray', () => {
    const { assignments } = layoutOf(soundSplitPlot(), 'sound');
    for (const shelf of ['1', '2', '3']) {
      const trays = new Map(
        assignments
          .filter((a) => a.potId.startsWith(`t${shelf}`))
          .map((a) => [a.potId.split(':')[0], a.levels.f1]),
      );
      expect([...trays.values()].sort()).toEqual(['l101', 'l102', 'l103']);
    }
    for (const tray of new Set(assignments.map((a) => a.potId.split(':')[0] ?? ''))) {
      const own = assignments.filter((a) => a.potId.startsWith(`${tray}:`));
      expect(counts(own.map((a) => a.levels.f2 ?? ''))).toEqual({
        l201: 6,
        l202: 6,
        l203: 6,
        l204: 6,
      });
    }
  });

  it('leaves guard pots out', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 1, rows: 6, columns: 6, guardRing: true });
    const trial = trialOf([factorOf(1, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
    });
    const { assignments } = layoutOf(inputOf(rack, trial), 'guards');
    expect(assignments).toHaveLength(32);
    expect(assignments.some((a) => /:[16]:|:[16]$/.test(a.potId))).toBe(false);
  });

  it('leaves the other shelves alone when a shelf is added', () => {
    const trial = trialOf([factorOf(1, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
    });
    // Fourteen pots for four treatments: with left-over treatments too.
    for (const columns of [4, 7]) {
      const shape = { traysPerShelf: 1, rows: 2, columns };
      const three = layoutOf(inputOf(rackOf({ ...shape, shelves: 3 }), trial), 'grow');
      const fourRack = rackOf({ ...shape, shelves: 4 });
      const four = layoutOf(inputOf(fourRack, trial), 'grow');
      expect(four.assignments.slice(0, three.assignments.length)).toEqual(three.assignments);
      fourRack.shelves.reverse();
      expect(layoutOf(inputOf(fourRack, trial), 'grow')).toEqual(four);
    }
  });

  it('takes given factors from the plan and spreads drawn ones evenly over them', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 4 });
    const where = ['t101', 't102', 't201', 't202'].map((unitId, i) => ({
      unitId,
      levelId: i % 2 === 0 ? 'l101' : 'l102',
    }));
    const trial = trialOf(
      [factorOf(1, 'tray', 2, { kind: 'fixed', where }), factorOf(2, 'pot', 4)],
      { blocks: { by: 'shelf' }, scheme: 'complete-blocks' },
    );
    const { assignments } = layoutOf(inputOf(rack, trial), 'given');
    const cells = counts(assignments.map((a) => treatmentKey(trial, a.levels)));
    expect(Object.values(cells)).toEqual(Array.from({ length: 8 }, () => 8));
    expect(
      assignments.filter((a) => a.potId.startsWith('t102:')).every((a) => a.levels.f1 === 'l102'),
    ).toBe(true);
  });

  it('draws complete blocks in a single block as a free shuffle', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 2, columns: 2 });
    const factors = [factorOf(1, 'pot', 2)];
    const levelsBy = (scheme: Trial['scheme']) =>
      layoutOf(inputOf(rack, trialOf(factors, { scheme })), 'x').assignments.map((a) => a.levels);
    expect(levelsBy('complete-blocks')).toEqual(levelsBy('completely-randomised'));
  });

  it('refuses a scheme that does not fit, naming the reason', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 2, columns: 2 });
    const draw = (...args: Parameters<typeof trialOf>) =>
      layoutOf(inputOf(rack, trialOf(...args)), 'x');
    expect(() => draw([])).toThrow('no factors');
    expect(() =>
      draw([factorOf(1, 'pot', 5)], { blocks: { by: 'tray' }, scheme: 'complete-blocks' }),
    ).toThrow('Tray 1A holds 4 pots for 5 treatments');
    expect(() => draw([factorOf(1, 'tray', 2), factorOf(2, 'pot', 2)])).toThrow('different units');
    expect(() => draw([factorOf(1, 'pot', 2)], { scheme: 'split-plot' })).toThrow(
      'two kinds of unit',
    );
    expect(() => draw([factorOf(1, 'tray', 2, { kind: 'fixed' }), factorOf(2, 'pot', 2)])).toThrow(
      '4 trays have no level of it',
    );
  });
});

describe('every treatment falls on every pot equally often', () => {
  const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 2, columns: 3 });

  it('completely randomised', () => {
    expectEvenOverSeeds(inputOf(rack, trialOf([factorOf(1, 'pot', 4)])));
  });

  it('complete blocks with left-over treatments', () => {
    const trial = trialOf([factorOf(1, 'pot', 4)], {
      blocks: { by: 'tray' },
      scheme: 'complete-blocks',
    });
    expectEvenOverSeeds(inputOf(rack, trial));
  });

  it('split plot, both factors', () => {
    const trial = trialOf([factorOf(1, 'tray', 2), factorOf(2, 'pot', 3)], {
      blocks: { by: 'shelf' },
      scheme: 'split-plot',
    });
    expectEvenOverSeeds(inputOf(rack, trial));
  });

  it('Latin squares, rows and columns, and incomplete blocks', () => {
    const square = rackOf({ shelves: 1, traysPerShelf: 2, rows: 3, columns: 3 });
    const latin = trialOf([factorOf(1, 'pot', 3)], { scheme: 'latin-square' });
    expectEvenOverSeeds(inputOf(square, latin));
    const lines = trialOf([factorOf(1, 'pot', 4)], { scheme: 'row-and-column' });
    expectEvenOverSeeds(inputOf(square, lines));
    const blocks = rackOf({ shelves: 3, traysPerShelf: 2, rows: 1, columns: 2 });
    const incomplete = trialOf([factorOf(1, 'pot', 4)], {
      blocks: { by: 'tray' },
      scheme: 'incomplete-blocks',
    });
    expectEvenOverSeeds(inputOf(blocks, incomplete));
  });

  it('light bands', () => {
    const trial = trialOf([factorOf(1, 'pot', 3)], {
      blocks: { by: 'light', bands: 4 },
      scheme: 'complete-blocks',
    });
    expectEvenOverSeeds(inputOf(rack, trial, domedLight(rack, 0.3)));
  });
});

describe('shares in blocks', () => {
  it('differ by one at most within a block and over the rack, whatever the sizes', () => {
    fc.assert(
      fc.property(
        fc.record({
          shelves: fc.integer({ min: 2, max: 4 }),
          rows: fc.integer({ min: 2, max: 4 }),
          columns: fc.integer({ min: 3, max: 5 }),
          levels: fc.integer({ min: 2, max: 6 }),
          seed: fc.string({ minLength: 1, maxLength: 8 }),
        }),
        ({ shelves, rows, columns, levels, seed }) => {
          const rack = rackOf({ shelves, traysPerShelf: 1, rows, columns });
          const trial = trialOf([factorOf(1, 'pot', levels)], {
            blocks: { by: 'shelf' },
            scheme: 'complete-blocks',
          });
          const { assignments } = layoutOf(inputOf(rack, trial), seed);
          const spread = (list: typeof assignments): number => {
            const tally =
              trial.factors[0]?.levels.map(
                (level) => list.filter((a) => a.levels.f1 === level.id).length,
              ) ?? [];
            return Math.max(...tally) - Math.min(...tally);
          };
          expect(spread(assignments)).toBeLessThanOrEqual(1);
          for (const block of new Set(assignments.map((a) => a.block))) {
            const own = assignments.filter((a) => a.block === block);
            expect(spread(own)).toBe(own.length % levels === 0 ? 0 : 1);
          }
        },
      ),
      { numRuns: 150, seed: 20260301 },
    );
  });
});

describe('verification', () => {
  it('finds an untouched layout fresh and identical', () => {
    const input = soundSplitPlot();
    const layout = layoutOf(input, 'check');
    expect(layoutState(input, layout)).toBe('fresh');
    expect(verifyLayout(input, layout)).toEqual({ redrawn: true, differing: [], said: [] });
    expect(layoutState(input, null)).toBe('missing');
  });

  it('finds pots whose treatment was changed, unless the exchange is logged', () => {
    const input = soundSplitPlot();
    const layout = layoutOf(input, 'check');
    const a = layout.assignments[0];
    const b = layout.assignments.find((other) => other.levels.f2 !== a?.levels.f2);
    if (!a || !b) throw new Error('two pots of different cultivars are expected');
    const swap = { date: '2026-03-02', a: a.potId, b: b.potId, reason: 'broken pot' };
    const assignments = applySwaps(input.trial, layout.assignments, [swap]);
    expect(verifyLayout(input, { ...layout, assignments }).differing.sort()).toEqual(
      [a.potId, b.potId].sort(),
    );
    expect(verifyLayout(input, { ...layout, assignments, swaps: [swap] }).differing).toEqual([]);
  });

  it('stays fresh through exchanges that move given levels and starting values along', () => {
    const rack = rackOf({ shelves: 1, traysPerShelf: 1, rows: 4, columns: 6 });
    const ids = [1, 2, 3, 4].flatMap((row) => [1, 2, 3, 4, 5, 6].map((c) => `t101:${row}:${c}`));
    const where = ids.map((unitId, i) => ({ unitId, levelId: i % 2 === 0 ? 'l101' : 'l102' }));
    const trial = trialOf(
      [factorOf(1, 'pot', 2, { kind: 'fixed', where }), factorOf(2, 'pot', 3)],
      {
        constraint: { acceptanceShare: 0.2, balance: ['start', 'position'], likeNeighbours: null },
      },
    );
    const startByPot = new Map(ids.map((id, i) => [id, 5 + ((i * 7) % 11) / 10]));
    const input = { ...inputOf(rack, trial), startByPot };
    const layout = layoutOf(input, 'given');
    const swaps = [
      { date: '2026-03-02', a: 't101:1:1', b: 't101:3:2', reason: '' },
      { date: '2026-03-03', a: 't101:3:2', b: 't101:4:6', reason: '' },
    ];
    const after = new Map(ids.map((id) => [id, id]));
    for (const { a, b } of swaps) {
      const [fromA, fromB] = [after.get(a) ?? '', after.get(b) ?? ''];
      after.set(a, fromB).set(b, fromA);
    }
    const levelAt = new Map(where.map((entry) => [entry.unitId, entry.levelId]));
    const moved = structuredClone(trial);
    const given = moved.factors[0];
    if (!given) throw new Error('a factor is expected');
    given.where = ids.map((unitId) => ({
      unitId,
      levelId: levelAt.get(after.get(unitId) ?? '') ?? '',
    }));
    const movedStart = new Map(ids.map((id) => [id, startByPot.get(after.get(id) ?? '') ?? 0]));
    const assignments = applySwaps(trial, layout.assignments, swaps);
    const now = { ...inputOf(rack, moved), startByPot: movedStart };
    const logged = { ...layout, assignments, swaps };
    expect(layoutState(now, logged)).toBe('fresh');
    expect(verifyLayout(now, logged)).toEqual({ redrawn: true, differing: [], said: [] });
    expect(layoutState(now, layout)).toBe('stale');
  });

  it('grows stale with pots and factors, not with names or unused light', () => {
    const input = soundSplitPlot();
    const layout = layoutOf(input, 'check');
    const renamed = structuredClone(input.trial);
    for (const factor of renamed.factors) factor.name = `${factor.name} renamed`;
    expect(layoutState({ ...input, trial: renamed, ppfdByPot: new Map() }, layout)).toBe('fresh');
    const rack = structuredClone(input.rack);
    rack.shelves[0]?.trays[0]?.grid?.guards.push('1:1');
    expect(layoutState({ ...input, rack }, layout)).toBe('stale');
    const levels = structuredClone(input.trial);
    levels.factors[1]?.levels.push({ id: 'l299', name: 'more' });
    expect(layoutState({ ...input, trial: levels }, layout)).toBe('stale');
  });
});
