import { describe, expect, it } from 'vitest';
import { chiSquareUpper } from '../../../renderer/engine/stats/distributions';
import {
  drawLayout,
  prepareDraw,
  trialNotices,
  unitsOf,
  verifyLayout,
} from '../../../renderer/engine/trial';
import type { TrialInput } from '../../../renderer/engine/trial';
import {
  domedLight,
  drawn,
  factorOf,
  inputOf,
  rackOf,
  trialOf,
  withTimes,
} from '../../builders/trialInput';

const layoutOf = (input: TrialInput, seed: string) =>
  drawLayout({ ...input, ...drawn, seed }).layout;

const stripPlot = (a: number, b: number) =>
  trialOf([factorOf(1, 'row-strip', a), factorOf(2, 'column-strip', b)], {
    blocks: { by: 'tray' },
    scheme: 'strip-plot',
  });

describe('strip plot', () => {
  it('has the degrees of freedom of the textbook', () => {
    // Gomez & Gomez 1984, section 3.5 (outline of the analysis of variance of a strip plot): r − 1;
    // a − 1 and (r − 1)(a − 1); b − 1 and (r − 1)(b − 1); (a − 1)(b − 1) and (r − 1)(a − 1)(b − 1).
    for (const [r, a, b] of [
      [3, 6, 3],
      [4, 2, 3],
      [5, 3, 2],
    ] as const) {
      const rack = rackOf({ shelves: r, traysPerShelf: 1, rows: a, columns: b });
      const { skeleton, factors } = unitsOf(inputOf(rack, stripPlot(a, b)));
      expect(skeleton.map((row) => [row.df, row.isError])).toEqual([
        [r - 1, false],
        [a - 1, false],
        [(r - 1) * (a - 1), true],
        [b - 1, false],
        [(r - 1) * (b - 1), true],
        [(a - 1) * (b - 1), false],
        [(r - 1) * (a - 1) * (b - 1), true],
      ]);
      expect(factors.map((factor) => [factor.unitCount, factor.errorDf])).toEqual([
        [r * a, (r - 1) * (a - 1)],
        [r * b, (r - 1) * (b - 1)],
      ]);
    }
  });

  it('tells pots of a cell apart from cells, and a pot factor within cells', () => {
    // Four trays, strips two wide: 12 × 12 cells of 2 × 2 pots hold a third factor twice.
    const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 6, columns: 4 });
    const input = inputOf(rack, {
      ...stripPlot(3, 2),
      factors: [...stripPlot(3, 2).factors, factorOf(3, 'pot', 2)],
    });
    const { skeleton } = unitsOf(input);
    // Blocks 3; A 2 + 6; B 1 + 3; AB 2 + 6; C 1, AC 2, BC 1, ABC 2 and the rest of 96 − 24 = 72.
    expect(skeleton.map((row) => row.df)).toEqual([3, 2, 6, 1, 3, 2, 6, 1, 2, 1, 2, 66]);
    const { assignments } = layoutOf(input, 'cells');
    const cells = new Map<string, string[]>();
    for (const a of assignments) {
      const [tray, row, column] = a.potId.split(':');
      const cell = `${tray ?? ''} ${Math.ceil(Number(row) / 2)} ${Math.ceil(Number(column) / 2)}`;
      cells.set(cell, [...(cells.get(cell) ?? []), a.levels.f3 ?? '']);
    }
    expect(cells.size).toBe(24);
    for (const own of cells.values()) {
      expect([...own].sort()).toEqual(['l301', 'l301', 'l302', 'l302']);
    }
  });

  it('gives every strip of rows one level of one factor, and of columns one of the other', () => {
    const rack = rackOf({ shelves: 3, traysPerShelf: 2, rows: 6, columns: 4 });
    const input = inputOf(rack, {
      ...stripPlot(3, 2),
      factors: [withTimes(factorOf(1, 'row-strip', 2), { 1: 2 }), factorOf(2, 'column-strip', 2)],
    });
    const layout = layoutOf(input, 'strips');
    for (const tray of new Set(layout.assignments.map((a) => a.potId.split(':')[0]))) {
      const own = layout.assignments.filter((a) => a.potId.startsWith(`${tray ?? ''}:`));
      const along = (line: 1 | 2, width: number, factor: string): string[] => {
        const found = new Map<number, Set<string>>();
        for (const a of own) {
          const strip = Math.ceil(Number(a.potId.split(':')[line]) / width);
          found.set(strip, (found.get(strip) ?? new Set()).add(a.levels[factor] ?? ''));
        }
        for (const levels of found.values()) expect(levels.size).toBe(1);
        return [...found.values()].flatMap((levels) => [...levels]).sort();
      };
      expect(along(1, 2, 'f1')).toEqual(['l101', 'l101', 'l102']);
      expect(along(2, 2, 'f2')).toEqual(['l201', 'l202']);
    }
    expect(verifyLayout(input, layout).differing).toEqual([]);
    expect(trialNotices({ ...input, layout })).toEqual([]);
  });

  it('draws every order of both kinds of strip equally often, one without regard to the other', () => {
    // 3! orders of rows by 2! of columns.
    const rack = rackOf({ shelves: 2, traysPerShelf: 1, rows: 3, columns: 2 });
    const counts = new Map<string, number>();
    const runs = 2400;
    for (let seed = 0; seed < runs; seed++) {
      const { assignments } = layoutOf(inputOf(rack, stripPlot(3, 2)), `seed ${seed}`);
      const key = ['t201:1:1', 't201:2:1', 't201:1:2']
        .map((id) => assignments.find((a) => a.potId === id))
        .map((a) => `${a?.levels.f1 ?? ''}${a?.levels.f2 ?? ''}`)
        .join();
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    expect(counts.size).toBe(12);
    const value = [...counts.values()].reduce(
      (sum, n) => sum + (n - runs / 12) ** 2 / (runs / 12),
      0,
    );
    expect(chiSquareUpper(value, 11)).toBeGreaterThan(0.001);
  });

  it('can balance light within the constraint', () => {
    const rack = rackOf({ shelves: 6, traysPerShelf: 1, rows: 4, columns: 6 });
    const meanDistance = (acceptanceShare: number): number => {
      const trial = {
        ...stripPlot(2, 3),
        constraint: { acceptanceShare, balance: ['light' as const], likeNeighbours: 2 },
      };
      const prepared = prepareDraw(inputOf(rack, trial, domedLight(rack, 0.3)));
      let sum = 0;
      for (let run = 0; run < 40; run++) {
        const { stages } = prepared.draw(`light ${run}`);
        sum += stages.findLast((stage) => stage.distance !== null)?.distance ?? 0;
      }
      return sum / 40;
    };
    expect(meanDistance(0.1)).toBeLessThan(0.3 * meanDistance(0.9999));
  });

  it('says why it does not fit and what would', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 5, columns: 4 });
    const refusal = (...args: Parameters<typeof trialOf>): string => {
      try {
        layoutOf(inputOf(rack, trialOf(...args)), 'x');
      } catch (error) {
        return String(error);
      }
      return '';
    };
    const rows = factorOf(1, 'row-strip', 5);
    const columns = factorOf(2, 'column-strip', 2);
    const scheme = 'strip-plot';
    expect(refusal([rows, columns], { scheme, blocks: { by: 'tray' } })).toBe('');
    expect(
      refusal([factorOf(1, 'row-strip', 2), columns], { scheme, blocks: { by: 'tray' } }),
    ).toContain(
      'Tray 1A has 5 rows of pots, which do not part into 2 strips of equal width. Use 4 or 6 rows',
    );
    expect(refusal([rows], { scheme, blocks: { by: 'tray' } })).toContain(
      'another on strips of columns',
    );
    expect(refusal([rows, columns], { scheme, blocks: { by: 'shelf' } })).toContain(
      'Shelf 1 reaches over 2 trays',
    );
    expect(refusal([rows, columns], { scheme })).toContain('only one block');
    expect(
      refusal([rows, columns, factorOf(3, 'tray', 2)], { scheme, blocks: { by: 'tray' } }),
    ).toContain('Factor 3 sits on whole trays or shelves');
    expect(refusal([rows], { scheme: 'complete-blocks', blocks: { by: 'tray' } })).toContain(
      'Factor 1 is applied to strips, which complete blocks cannot hold. Choose a strip plot',
    );
    expect(
      refusal([factorOf(1, 'row-strip', 5, { kind: 'fixed' }), columns], {
        scheme,
        blocks: { by: 'tray' },
      }),
    ).toContain('Factor 1 is fixed by you on strips');
  });
});
