import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chiSquareUpper } from '../../../renderer/engine/stats/distributions';
import { drawLayout, layoutEfficiency } from '../../../renderer/engine/trial';
import {
  incompleteDesign,
  randomisedDesign,
} from '../../../renderer/engine/trial/schemes/incomplete';
import { efficiencyFactor } from '../../../renderer/engine/trial/schemes/efficiency';
import { latinSquares, reducedSquares } from '../../../renderer/engine/trial/schemes/latin';
import { evenGrids } from '../../../renderer/engine/trial/schemes/rowColumn';
import type { TreatmentGrid } from '../../../renderer/engine/trial/schemes/rowColumn';
import { stream } from '../../../renderer/engine/trial/stream';
import { drawn, factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

const chiSquareP = (counts: number[]): number => {
  const expected = counts.reduce((a, b) => a + b, 0) / counts.length;
  const value = counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
  return chiSquareUpper(value, counts.length - 1);
};

/** So many treatments, each wanted once. */
const alike = (treatments: number): number[] => Array.from({ length: treatments }, () => 1);

const isLatin = (square: number[][]): boolean => {
  const n = square.length;
  const full = (line: number[]) => new Set(line).size === n && line.every((s) => s >= 0 && s < n);
  return square.every(full) && square.every((_, c) => full(square.map((row) => row[c] ?? -1)));
};

describe('Latin squares', () => {
  it('has as many reduced squares as are known', () => {
    // trade-facts 7.4; order 6 (9408) is cited there from the literature.
    expect([2, 3, 4, 5, 6].map((n) => reducedSquares(n).length)).toEqual([1, 1, 4, 56, 9408]);
  });

  it('draws all 12 squares of order 3 and all 576 of order 4 equally often', () => {
    for (const [n, all, runs] of [
      [3, 12, 6000],
      [4, 576, 57_600],
    ] as const) {
      const next = latinSquares(n, stream('latin', `order ${n}`));
      const counts = new Map<string, number>();
      for (let i = 0; i < runs; i++) {
        const key = next().flat().join('');
        counts.set(key, (counts.get(key) ?? 0) + 1);
      }
      expect(counts.size).toBe(all);
      expect(chiSquareP([...counts.values()])).toBeGreaterThan(0.001);
    }
  });

  it('walks over the squares of order 6 without favour', () => {
    // The number of 2 × 2 subsquares tells kinds of squares apart. Permuting rows, columns and
    // symbols keeps it, so its mean over all squares is that over the 9408 reduced ones.
    const intercalates = (square: number[][]): number => {
      let found = 0;
      for (let r = 0; r < 6; r++)
        for (let r2 = r + 1; r2 < 6; r2++)
          for (let c = 0; c < 6; c++)
            for (let c2 = c + 1; c2 < 6; c2++)
              if (square[r]?.[c] === square[r2]?.[c2] && square[r]?.[c2] === square[r2]?.[c])
                found++;
      return found;
    };
    const listed = reducedSquares(6).map(intercalates);
    const mean = listed.reduce((a, b) => a + b, 0) / listed.length;
    const sd = Math.sqrt(listed.reduce((sum, x) => sum + (x - mean) ** 2, 0) / listed.length);
    const next = latinSquares(6, stream('latin', 'order 6'));
    const runs = 3000;
    let sum = 0;
    for (let i = 0; i < runs; i++) {
      const square = next();
      expect(isLatin(square)).toBe(true);
      sum += intercalates(square);
    }
    expect(Math.abs(sum / runs - mean)).toBeLessThan((4 * sd) / Math.sqrt(runs));
  });

  it('lays squares on trays, and on shelves by place', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 1, rows: 5, columns: 10 });
    const trial = trialOf([factorOf(1, 'pot', 5)], { scheme: 'latin-square' });
    const { layout } = drawLayout({ ...inputOf(rack, trial), ...drawn, seed: 'latin' });
    for (const tray of ['t101', 't201']) {
      for (const left of [0, 5]) {
        const square = Array.from({ length: 5 }, (_, r) =>
          Array.from({ length: 5 }, (_, c) => {
            const a = layout.assignments.find(
              (x) => x.potId === `${tray}:${r + 1}:${left + c + 1}`,
            );
            return Number(a?.levels.f1?.slice(-1)) - 1;
          }),
        );
        expect(isLatin(square)).toBe(true);
      }
    }
    const shelves = rackOf({ shelves: 4, traysPerShelf: 4, rows: 1, columns: 2 });
    const whole = trialOf([factorOf(1, 'tray', 4)], { scheme: 'latin-square' });
    const trays = drawLayout({ ...inputOf(shelves, whole), ...drawn, seed: 'latin' }).layout;
    const square = [1, 2, 3, 4].map((s) =>
      [1, 2, 3, 4].map((t) => {
        const a = trays.assignments.find((x) => x.potId === `t${s}0${t}:1:1`);
        return Number(a?.levels.f1?.slice(-1)) - 1;
      }),
    );
    expect(isLatin(square)).toBe(true);
    const wrong = trialOf([factorOf(1, 'pot', 4)], { scheme: 'latin-square' });
    expect(() => drawLayout({ ...inputOf(rack, wrong), ...drawn, seed: 'x' })).toThrow(
      '5 × 10 pots; a Latin square of 4 treatments needs a multiple of 4',
    );
  });
});

describe('row-and-column', () => {
  const spread = (line: number[], treatments: number): number => {
    const tally = Array.from({ length: treatments }, (_, t) => line.filter((x) => x === t).length);
    return Math.max(...tally) - Math.min(...tally);
  };
  const isEven = ({ rows, columns, treatments, cells }: TreatmentGrid): boolean => {
    const all = [...cells];
    const lines = [
      all,
      ...Array.from({ length: rows }, (_, r) => all.slice(r * columns, (r + 1) * columns)),
      ...Array.from({ length: columns }, (_, c) => all.filter((_, i) => i % columns === c)),
    ];
    return lines.every((line) => spread(line, treatments) <= 1);
  };

  it('is as even as can be in rows, columns and altogether, for any sizes', () => {
    fc.assert(
      fc.property(
        fc.record({
          rows: fc.integer({ min: 1, max: 9 }),
          columns: fc.integer({ min: 1, max: 9 }),
          treatments: fc.integer({ min: 2, max: 12 }),
          seed: fc.string({ minLength: 1, maxLength: 6 }),
        }),
        ({ rows, columns, treatments, seed }) => {
          const next = evenGrids(rows, columns, treatments, stream(seed, 'grid'));
          for (const grid of [next(), next()]) expect(isEven(grid)).toBe(true);
        },
      ),
      { numRuns: 200, seed: 7 },
    );
  });

  it('draws every grid of its class equally often', () => {
    // The classes are listed here one by one, row after row; 4 × 4 in 4 are the 576 Latin squares.
    for (const [rows, columns, treatments, known] of [
      [4, 4, 4, 576],
      [3, 3, 2, null],
      [2, 4, 3, null],
      [3, 4, 3, null],
      [4, 4, 2, null],
      [2, 5, 3, null],
    ] as const) {
      const all = new Set<string>();
      const cells = new Int32Array(rows * columns);
      const fill = (cell: number): void => {
        const row = [...cells.subarray(cell - columns, cell)];
        if (cell > 0 && cell % columns === 0 && spread(row, treatments) > 1) return;
        if (cell === cells.length) {
          if (isEven({ rows, columns, treatments, cells })) all.add(cells.join(''));
          return;
        }
        for (let t = 0; t < treatments; t++) {
          cells[cell] = t;
          fill(cell + 1);
        }
      };
      if (known === null) fill(0);
      const size = known ?? all.size;
      const counts = new Map<string, number>();
      const next = evenGrids(rows, columns, treatments, stream('class', `${rows} ${columns}`));
      const runs = 20 * size;
      for (let run = 0; run < runs; run++) {
        const key = next().cells.join('');
        if (known === null) expect(all.has(key)).toBe(true);
        counts.set(key, (counts.get(key) ?? 0) + 1);
      }
      expect(counts.size).toBe(size);
      expect(chiSquareP([...counts.values()])).toBeGreaterThan(0.001);
    }
  });

  it('puts every treatment on every pot equally often, from one seed to the next', () => {
    const runs = 4000;
    const tally = Array.from({ length: 12 }, () => [0, 0, 0, 0, 0]);
    for (let seed = 0; seed < runs; seed++) {
      evenGrids(3, 4, 5, stream(String(seed), 'grid'))().cells.forEach((t, i) => {
        const cell = tally[i];
        if (cell) cell[t] = (cell[t] ?? 0) + 1;
      });
    }
    for (const cell of tally) expect(chiSquareP(cell)).toBeGreaterThan(0.001 / 12);
  });
});

describe('incomplete blocks', () => {
  const blocks = (count: number, size: number) => Array.from({ length: count }, () => size);

  it('finds the balanced designs of Fisher and Yates’ table', () => {
    // Fisher & Yates, Statistical Tables, table XVII: t, k, b, λ, and E = λt/(rk).
    const cases: [number, number, number, number, number][] = [
      [4, 2, 6, 1, 2 / 3],
      [5, 2, 10, 1, 5 / 8],
      [5, 3, 10, 3, 5 / 6],
      [5, 4, 5, 3, 15 / 16],
      [6, 3, 10, 2, 4 / 5],
      [7, 3, 7, 1, 7 / 9],
      [7, 4, 7, 2, 7 / 8],
      [9, 3, 12, 1, 3 / 4],
      [11, 5, 11, 2, 22 / 25],
      [13, 4, 13, 1, 13 / 16],
      [21, 5, 21, 1, 21 / 25],
    ];
    for (const [t, k, b, lambda, efficiency] of cases) {
      const design = incompleteDesign(alike(t), blocks(b, k));
      for (let i = 0; i < t; i++) {
        for (let j = 0; j < i; j++) {
          expect(design.filter((block) => block.includes(i) && block.includes(j)).length).toBe(
            lambda,
          );
        }
      }
      expect(efficiencyFactor(design, t)).toBeCloseTo(efficiency, 12);
    }
  });

  it('is the square lattice where the numbers make one, with its published efficiency', () => {
    // Yates 1936; John & Williams 1995, Cyclic and Computer Generated Designs: the average
    // efficiency factor of a lattice of s² treatments in r replicates of blocks of s is
    // (s + 1)(r − 1)/((s + 1)(r − 1) + r).
    for (const [s, r] of [
      [3, 2],
      [3, 3],
      [4, 2],
      [4, 3],
      [5, 2],
      [5, 4],
      [6, 2],
      [6, 3],
      [7, 3],
    ] as const) {
      const design = incompleteDesign(alike(s * s), blocks(r * s, s));
      const published = ((s + 1) * (r - 1)) / ((s + 1) * (r - 1) + r);
      expect(efficiencyFactor(design, s * s)).toBeCloseTo(published, 10);
    }
  });

  it('comes within a few hundredths of a lattice that it does not list', () => {
    // Sixteen in four replicates need the field of four elements.
    const design = incompleteDesign(alike(16), blocks(16, 4));
    expect(efficiencyFactor(design, 16)).toBeGreaterThan(0.99 * (15 / 19));
  });

  it('comes close to the bound where no balanced design exists', () => {
    // t 8, k 3, b 8, r 3: partially balanced; no design exceeds E = t(k − 1)/(k(t − 1)) = 16/21.
    const design = incompleteDesign(alike(8), blocks(8, 3));
    const efficiency = efficiencyFactor(design, 8);
    expect(efficiency).toBeLessThan(16 / 21);
    expect(efficiency).toBeGreaterThan(0.97 * (16 / 21));
    for (const block of design) expect(new Set(block).size).toBe(3);
  });

  it('is 1 for complete blocks and 0 for treatments that never meet', () => {
    expect(
      efficiencyFactor(
        [
          [0, 1, 2],
          [0, 1, 2],
        ],
        3,
      ),
    ).toBeCloseTo(1, 12);
    expect(
      efficiencyFactor(
        [
          [0, 1],
          [2, 3],
        ],
        4,
      ),
    ).toBe(0);
  });

  it('keeps the concurrences when randomised and draws on the rack', () => {
    const design = incompleteDesign(alike(7), blocks(7, 3));
    const random = randomisedDesign(design, alike(7), stream('a', 'b'));
    expect(random).not.toEqual(design);
    expect(efficiencyFactor(random, 7)).toBeCloseTo(7 / 9, 12);

    const rack = rackOf({ shelves: 7, traysPerShelf: 1, rows: 1, columns: 3 });
    const trial = trialOf([factorOf(1, 'pot', 7)], {
      blocks: { by: 'tray' },
      scheme: 'incomplete-blocks',
    });
    const { layout } = drawLayout({ ...inputOf(rack, trial), ...drawn, seed: 'bib' });
    const byBlock = new Map<string, string[]>();
    for (const a of layout.assignments) {
      byBlock.set(a.block, [...(byBlock.get(a.block) ?? []), a.levels.f1 ?? '']);
    }
    const sets = [...byBlock.values()];
    for (const set of sets) expect(new Set(set).size).toBe(3);
    expect(layoutEfficiency(trial, layout)).toBeCloseTo(7 / 9, 12);
  });
});
