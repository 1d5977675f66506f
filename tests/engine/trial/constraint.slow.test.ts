import { describe, expect, it } from 'vitest';
import { chiSquareLower, chiSquareQuantile } from '../../../renderer/engine/stats/distributions';
import { drawLayout, prepareDraw, trialNotices } from '../../../renderer/engine/trial';
import {
  covariatesOf,
  distanceOver,
  imbalance,
  TreatmentSums,
  type Distance,
} from '../../../renderer/engine/trial/constraint/distance';
import { longestLikeLine } from '../../../renderer/engine/trial/constraint/prepared';
import { siteOf } from '../../../renderer/engine/trial/site/siteOf';
import {
  domedLight,
  drawn,
  factorOf,
  inputOf,
  rackOf,
  trialOf,
  withTimes,
} from '../../builders/trialInput';

function imbalanceOf(
  distance: Distance,
  units: readonly number[],
  treatmentOf: Int32Array,
): number {
  const sums = new TreatmentSums(distance.covariates, distance.treatments);
  sums.add(units, treatmentOf);
  return imbalance(distance, sums);
}

describe('distance', () => {
  const group = { units: [0, 1, 2, 3, 4, 5, 6, 7] };
  const m = (columns: number[][], treated: number[]): number => {
    const centred = columns.map((column) => {
      const mean = column.reduce((a, b) => a + b, 0) / column.length;
      return Float64Array.from(column, (x) => x - mean);
    });
    const distance = distanceOver({ names: [], values: centred }, [group], 2);
    const treatmentOf = Int32Array.from(group.units, (u) => (treated.includes(u + 1) ? 1 : 0));
    return imbalanceOf(distance, group.units, treatmentOf);
  };
  const x = [1, 2, 3, 4, 5, 6, 7, 8];
  const second = [2, 1, 4, 3, 6, 5, 8, 9];

  it('is the Mahalanobis distance of Morgan and Rubin', () => {
    // trade-facts 7.6.
    expect(m([x], [1, 4, 6, 7])).toBeCloseTo(0, 12);
    expect(m([x], [1, 3, 5, 7])).toBeCloseTo(0.3333333333, 9);
    expect(m([x], [1, 2, 3, 4])).toBeCloseTo(5.333333333, 9);
    expect(m([x, second], [1, 4, 6, 7])).toBeCloseTo(0.4803921569, 9);
    expect(m([x, second], [1, 3, 5, 7])).toBeCloseTo(5.078431373, 9);
    expect(m([x, second], [1, 2, 3, 4])).toBeCloseTo(5.421568627, 9);
  });

  it('accepts 22 of the 70 layouts at M ≤ 0.1', () => {
    // trade-facts 7.6.
    let accepted = 0;
    for (let mask = 0; mask < 256; mask++) {
      const treated = x.filter((i) => (mask >> (i - 1)) & 1);
      if (treated.length === 4 && m([x], treated) <= 0.1) accepted++;
    }
    expect(accepted).toBe(22);
  });

  it('leaves out covariates that repeat others', () => {
    const twice = x.map((value) => 3 * value + 1);
    expect(m([x, twice], [1, 2, 3, 4])).toBeCloseTo(5.333333333, 9);
  });
});

describe('constrained draw', () => {
  // One tray of 10 × 20 pots, two treatments, balanced on what is stated.
  const rack = rackOf({ shelves: 1, traysPerShelf: 1, rows: 10, columns: 20 });
  const constrained = (acceptanceShare: number, balance: ('light' | 'position')[]) =>
    trialOf([factorOf(1, 'pot', 2)], {
      constraint: { acceptanceShare, balance, likeNeighbours: null },
    });
  const light = domedLight(rack, 0.4);

  it('reduces the variance of covariate differences as the published formula says', () => {
    // Morgan & Rubin 2012 (trade-facts 7.6): v = P(χ²(k + 2) ≤ a)/P(χ²(k) ≤ a), a the quantile.
    for (const [share, balance] of [
      [0.1, ['light']],
      [0.1, ['position']],
      [0.5, ['position']],
    ] as [number, ('light' | 'position')[]][]) {
      const input = inputOf(rack, constrained(share, balance), light);
      const { site, draw } = prepareDraw(input);
      const [tier] = site.tiers;
      if (!tier) throw new Error('a tier is expected');
      const covariates = covariatesOf(site, tier);
      const k = covariates.names.length;
      const a = chiSquareQuantile(share, k);
      const expected = chiSquareLower(a, k + 2) / chiSquareLower(a, k);
      const runs = 3000;
      const column = covariates.values[0];
      if (!column) throw new Error('a covariate is expected');
      const difference = (treatmentOf: Int32Array | undefined): number => {
        let sum = 0;
        treatmentOf?.forEach((t, unit) => (sum += (t === 0 ? 1 : -1) * (column[unit] ?? 0)));
        return sum / 100;
      };
      const free = column.reduce((sum, value) => sum + value * value, 0) / 199 / 50;
      let squares = 0;
      for (let run = 0; run < runs; run++)
        squares += difference(draw(`run ${run}`).treatmentOf[0]) ** 2;
      const ratio = squares / runs / free;
      // Five standard errors of a variance, with room for the kurtosis of the accepted draws.
      expect(Math.abs(ratio - expected) / expected).toBeLessThan(5 * Math.sqrt(2 / runs) + 0.05);
    }
  });

  it('accepts about the stated share and reports threshold and distance', () => {
    const input = inputOf(rack, constrained(0.02, ['light', 'position']), light);
    const { draw } = prepareDraw(input);
    let candidates = 0;
    for (let run = 0; run < 200; run++) {
      const { stages } = draw(`share ${run}`);
      for (const stage of stages) {
        expect(stage.distance ?? Infinity).toBeLessThanOrEqual(stage.threshold ?? 0);
        candidates += stage.candidates;
      }
    }
    // Mean of 200 geometric counts of mean 50 and sd 49.5; the threshold itself is estimated.
    expect(candidates / 200).toBeGreaterThan(35);
    expect(candidates / 200).toBeLessThan(70);
  });

  it('keeps every treatment on every pot equally often', () => {
    const small = rackOf({ shelves: 1, traysPerShelf: 1, rows: 4, columns: 6 });
    const trial = trialOf([factorOf(1, 'pot', 3)], {
      constraint: { acceptanceShare: 0.1, balance: ['light', 'position'], likeNeighbours: 2 },
    });
    const { draw } = prepareDraw(inputOf(small, trial, domedLight(small, 0.3)));
    const runs = 1500;
    const tally = Array.from({ length: 24 }, () => [0, 0, 0]);
    for (let run = 0; run < runs; run++) {
      draw(`pot ${run}`).treatmentOf[0]?.forEach((t, unit) => {
        const cell = tally[unit];
        if (cell) cell[t] = (cell[t] ?? 0) + 1;
      });
    }
    // χ² on 2 df exceeds 20.0 with probability 4.5e-5, 0.1 % over 24 pots.
    for (const cell of tally) {
      expect(cell.reduce((sum, n) => sum + (n - runs / 3) ** 2 / (runs / 3), 0)).toBeLessThan(20);
    }
  });

  it('leaves the other shelves alone when a shelf is added', () => {
    const trial = trialOf([factorOf(1, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
      constraint: { acceptanceShare: 0.05, balance: ['light', 'position'], likeNeighbours: 2 },
    });
    const layouts = [2, 3].map((shelves) => {
      const wider = rackOf({ shelves, traysPerShelf: 1, rows: 4, columns: 6 });
      return drawLayout({
        ...inputOf(wider, trial, domedLight(wider, 0.3)),
        ...drawn,
        seed: 'grow',
      }).layout;
    });
    expect(layouts[1]?.assignments.slice(0, 48)).toEqual(layouts[0]?.assignments);
  });

  it('never draws so few layouts that a test has nothing to compare', () => {
    // Four pots, two treatments: six layouts; a share of 1 % would leave none.
    const tiny = rackOf({ shelves: 1, traysPerShelf: 1, rows: 1, columns: 4 });
    const { draw } = prepareDraw(inputOf(tiny, constrained(0.01, ['position'])));
    expect(draw('tiny').stages[0]?.acceptanceShare).toBe(1);
  });

  it('keeps like neighbours under the cap, in every line of every tray', () => {
    for (const [levels, cap] of [
      [4, 1],
      [4, 2],
      [2, 2],
      [3, 3],
    ] as const) {
      const trial = trialOf([factorOf(1, 'pot', levels)], {
        blocks: { by: 'tray-halves' },
        scheme: 'complete-blocks',
        constraint: { acceptanceShare: 1, balance: [], likeNeighbours: cap },
      });
      const two = rackOf({ shelves: 2, traysPerShelf: 1, rows: 6, columns: 8 });
      const { site, draw } = prepareDraw(inputOf(two, trial));
      const [tier] = site.tiers;
      for (let run = 0; run < 20; run++) {
        const [treatmentOf] = draw(`cap ${run}`).treatmentOf;
        if (!tier || !treatmentOf) throw new Error('a drawn tier is expected');
        expect(longestLikeLine(site, tier, treatmentOf)).toBeLessThanOrEqual(cap);
        for (const group of tier.groups) {
          const first = group.units.filter((unit) => treatmentOf[unit] === 0).length;
          expect(first).toBe(24 / levels);
        }
      }
    }
    const row = rackOf({ shelves: 1, traysPerShelf: 1, rows: 1, columns: 6 });
    const impossible = trialOf([factorOf(1, 'pot', 1)], {
      constraint: { acceptanceShare: 1, balance: [], likeNeighbours: 1 },
    });
    expect(() => prepareDraw(inputOf(row, impossible)).draw('x')).toThrow('like neighbours');
  });

  it('keeps the cap across Latin squares without breaking them', () => {
    const two = rackOf({ shelves: 1, traysPerShelf: 1, rows: 4, columns: 8 });
    const trial = trialOf([factorOf(1, 'pot', 4)], {
      scheme: 'latin-square',
      constraint: { acceptanceShare: 1, balance: [], likeNeighbours: 1 },
    });
    const { site, draw } = prepareDraw(inputOf(two, trial));
    const [tier] = site.tiers;
    for (let run = 0; run < 20; run++) {
      const [treatmentOf] = draw(`square ${run}`).treatmentOf;
      if (!tier || !treatmentOf) throw new Error('a drawn tier is expected');
      expect(longestLikeLine(site, tier, treatmentOf)).toBe(1);
      const at = (row: number, column: number) => treatmentOf[row * 8 + column];
      for (const left of [0, 4]) {
        for (const i of [0, 1, 2, 3]) {
          expect(new Set([0, 1, 2, 3].map((c) => at(i, left + c))).size).toBe(4);
          expect(new Set([0, 1, 2, 3].map((r) => at(r, left + i))).size).toBe(4);
        }
      }
    }
  });

  it('draws every accepted layout equally often, and no other', () => {
    // Two rows of seven pots, two treatments: of the 3432 layouts those whose imbalance is within the
    // threshold, listed here one by one.
    const line = rackOf({ shelves: 1, traysPerShelf: 1, rows: 2, columns: 7 });
    const input = inputOf(line, constrained(0.1, ['position']), light);
    const { site, draw } = prepareDraw(input);
    const [tier] = site.tiers;
    if (!tier) throw new Error('a tier is expected');
    const distance = distanceOver(covariatesOf(site, tier), tier.groups, 2);
    const units = Array.from({ length: 14 }, (_, unit) => unit);
    const threshold = draw('any').stages[0]?.threshold ?? 0;
    const accepted = new Set<string>();
    let all = 0;
    for (let mask = 0; mask < 16_384; mask++) {
      const treatmentOf = Int32Array.from(units, (unit) => (mask >> unit) & 1);
      if (treatmentOf.reduce((sum, t) => sum + t, 0) !== 7) continue;
      all++;
      if (imbalanceOf(distance, units, treatmentOf) <= threshold)
        accepted.add(treatmentOf.join(''));
    }
    expect(all).toBe(3432);
    expect(accepted.size).toBeGreaterThan(800);
    // 1000 layouts are the least that are left to choose from.
    expect(accepted.size).toBeLessThan(1300);
    const runs = 12 * accepted.size;
    const counts = new Map<string, number>();
    for (let run = 0; run < runs; run++) {
      const key = draw(`run ${run}`).treatmentOf[0]?.join('') ?? '';
      expect(accepted.has(key)).toBe(true);
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    expect(counts.size).toBe(accepted.size);
    const value = [...counts.values()].reduce((sum, n) => sum + (n - 12) ** 2 / 12, 0);
    expect(chiSquareLower(value, accepted.size - 1)).toBeLessThan(0.999);
  });

  it('draws every layout under the cap equally often, and no other', () => {
    // 3 × 4 pots, three treatments of four pots, no like neighbours side by side: listed here.
    const small = rackOf({ shelves: 1, traysPerShelf: 1, rows: 3, columns: 4 });
    const trial = trialOf([factorOf(1, 'pot', 3)], {
      constraint: { acceptanceShare: 1, balance: [], likeNeighbours: 1 },
    });
    const allowed = new Set<string>();
    const cells: number[] = [];
    const fill = (): void => {
      const at = cells.length;
      if (at === 12) {
        if ([0, 1, 2].every((t) => cells.filter((x) => x === t).length === 4)) {
          allowed.add(cells.join(''));
        }
        return;
      }
      for (const t of [0, 1, 2]) {
        if ((at % 4 > 0 && cells[at - 1] === t) || cells[at - 4] === t) continue;
        cells.push(t);
        fill();
        cells.pop();
      }
    };
    fill();
    const { draw } = prepareDraw(inputOf(small, trial));
    const each = 20;
    const runs = each * allowed.size;
    const counts = new Map<string, number>();
    for (let run = 0; run < runs; run++) {
      const key = draw(`run ${run}`).treatmentOf[0]?.join('') ?? '';
      expect(allowed.has(key)).toBe(true);
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    expect(counts.size).toBe(allowed.size);
    const value = [...counts.values()].reduce((sum, n) => sum + (n - each) ** 2 / each, 0);
    expect(chiSquareLower(value, allowed.size - 1)).toBeLessThan(0.999);
  });

  it('says before any draw that a cap is out of reach, and which one is not', () => {
    const two = rackOf({ shelves: 2, traysPerShelf: 1, rows: 1, columns: 6 });
    const trial = trialOf([withTimes(factorOf(1, 'pot', 2), { 1: 5 })], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
      constraint: { acceptanceShare: 1, balance: [], likeNeighbours: 2 },
    });
    // Five of one and one of the other in a line of six part into 2 + 3 at the best.
    const input = inputOf(two, trial);
    expect(() => prepareDraw(input)).toThrow('the least that was reached is 3');
    expect(trialNotices({ ...input, layout: null })).toMatchObject([
      { kind: 'scheme-does-not-fit', severity: 'stop' },
    ]);
    const allowed = { ...trial, constraint: { ...trial.constraint, likeNeighbours: 3 } };
    expect(trialNotices({ ...inputOf(two, allowed), layout: null })).toEqual([]);
  });

  it('keeps the cap on rows and columns without leaving their class', () => {
    // 6 × 8 pots and three treatments: a free grid of this class has like neighbours somewhere.
    const wide = rackOf({ shelves: 1, traysPerShelf: 1, rows: 6, columns: 8 });
    const trial = trialOf([factorOf(1, 'pot', 3)], {
      scheme: 'row-and-column',
      constraint: { acceptanceShare: 1, balance: [], likeNeighbours: 1 },
    });
    const { site, draw } = prepareDraw(inputOf(wide, trial));
    const [tier] = site.tiers;
    for (let run = 0; run < 20; run++) {
      const [treatmentOf] = draw(`grid ${run}`).treatmentOf;
      if (!tier || !treatmentOf) throw new Error('a drawn tier is expected');
      expect(longestLikeLine(site, tier, treatmentOf)).toBe(1);
      const spread = (line: number[]): number => {
        const tally = [0, 1, 2].map((t) => line.filter((x) => x === t).length);
        return Math.max(...tally) - Math.min(...tally);
      };
      const all = [...treatmentOf];
      for (let r = 0; r < 6; r++)
        expect(spread(all.slice(8 * r, 8 * r + 8))).toBeLessThanOrEqual(1);
      for (let c = 0; c < 8; c++) {
        expect(spread(all.filter((_, i) => i % 8 === c))).toBeLessThanOrEqual(1);
      }
    }
  });

  it('leaves out light that is not known', () => {
    const site = siteOf(inputOf(rack, constrained(0.1, ['light', 'position'])));
    const [tier] = site.tiers;
    if (!tier) throw new Error('a tier is expected');
    expect(covariatesOf(site, tier).names).toEqual(['x', 'y', 'edge']);
  });
});
