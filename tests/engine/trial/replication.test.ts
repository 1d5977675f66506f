import { describe, expect, it } from 'vitest';
import { chiSquareUpper } from '../../../renderer/engine/stats/distributions';
import {
  balanceOf,
  drawLayout,
  layoutEfficiency,
  layoutState,
  trialNotices,
  unitsOf,
  verifyLayout,
} from '../../../renderer/engine/trial';
import type { TrialInput } from '../../../renderer/engine/trial';
import { incompleteDesign } from '../../../renderer/engine/trial/schemes/incomplete';
import { efficiencyFactor } from '../../../renderer/engine/trial/schemes/efficiency';
import type { Assignment } from '../../../shared-types/layout';
import { drawn, factorOf, inputOf, rackOf, trialOf, withTimes } from '../../builders/trialInput';

const layoutOf = (input: TrialInput, seed: string) =>
  drawLayout({ ...input, ...drawn, seed }).layout;

/** Pots of each level of factor 1, in the order of its levels. */
const potsOf = (assignments: readonly Assignment[], levels: number): number[] =>
  Array.from(
    { length: levels },
    (_, i) => assignments.filter((a) => a.levels.f1 === `l10${i + 1}`).length,
  );

const byBlock = (assignments: readonly Assignment[]): Assignment[][] =>
  [...new Set(assignments.map((a) => a.block))].map((block) =>
    assignments.filter((a) => a.block === block),
  );

// Three treatments and a control that is wanted twice, in four blocks of five.
const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 1, columns: 5 });
const doubleControl = trialOf([withTimes(factorOf(1, 'pot', 4), { 1: 2 })], {
  blocks: { by: 'shelf' },
  scheme: 'complete-blocks',
});
const sound = inputOf(rack, doubleControl);

describe('a level that is wanted more often', () => {
  it('stands so often in every block', () => {
    for (const seed of ['a', 'b', 'c']) {
      const { assignments } = layoutOf(sound, seed);
      for (const block of byBlock(assignments)) expect(potsOf(block, 4)).toEqual([2, 1, 1, 1]);
    }
  });

  it('falls on every pot in proportion to its times, with places left over too', () => {
    for (const columns of [5, 7]) {
      const input = inputOf(
        rackOf({ shelves: 2, traysPerShelf: 1, rows: 1, columns }),
        doubleControl,
      );
      const seeds = 1000;
      const tally = new Map<string, number[]>();
      for (let seed = 0; seed < seeds; seed++) {
        for (const a of layoutOf(input, `seed ${seed}`).assignments) {
          const list = tally.get(a.potId) ?? [0, 0, 0, 0];
          const at = Number(a.levels.f1?.slice(-1)) - 1;
          list[at] = (list[at] ?? 0) + 1;
          tally.set(a.potId, list);
        }
      }
      for (const list of tally.values()) {
        const wanted = [0.4, 0.2, 0.2, 0.2].map((share) => share * seeds);
        const value = list.reduce(
          (sum, n, i) => sum + (n - (wanted[i] ?? 0)) ** 2 / (wanted[i] ?? 1),
          0,
        );
        expect(chiSquareUpper(value, 3)).toBeGreaterThan(0.001 / tally.size);
      }
    }
  });

  it('has the degrees of freedom and units of its numbers', () => {
    // Blocks 3, treatments 3, error 19 − 6 = 13 of 20 pots; control on 8 pots, the others on 4.
    const { skeleton, factors } = unitsOf(sound);
    expect(skeleton.map((row) => row.df)).toEqual([3, 3, 13]);
    expect(factors[0]?.unitsPerLevel.map((level) => level.units)).toEqual([8, 4, 4, 4]);
  });

  it('is no cause for a notice, but what is left over is', () => {
    expect(trialNotices({ ...sound, layout: null })).toEqual([]);
    const odd = inputOf(
      rackOf({ shelves: 4, traysPerShelf: 1, rows: 1, columns: 6 }),
      doubleControl,
    );
    const [notice] = trialNotices({ ...odd, layout: null });
    expect(notice).toMatchObject({ kind: 'unequal-replication', severity: 'note' });
    expect(notice?.text).toContain('4 treatments (5 pots a full set');
  });

  it('verifies, and grows stale when the times change', () => {
    const layout = layoutOf(sound, 'check');
    expect(verifyLayout(sound, layout).differing).toEqual([]);
    const [factor] = doubleControl.factors;
    if (!factor) throw new Error('a factor is expected');
    const thrice = { ...doubleControl, factors: [withTimes(factor, { 1: 3 })] };
    expect(layoutState({ ...sound, trial: thrice }, layout)).toBe('stale');
    const once = { ...doubleControl, factors: [factorOf(1, 'pot', 4)] };
    expect(layoutState({ ...sound, trial: once }, layout)).toBe('stale');
  });

  it('says why a block is too small for a full set', () => {
    const small = inputOf(
      rackOf({ shelves: 4, traysPerShelf: 1, rows: 1, columns: 4 }),
      doubleControl,
    );
    expect(() => layoutOf(small, 'x')).toThrow(
      'Shelf 1 holds 4 pots for 4 treatments (5 pots a full set, as some are wanted more often)',
    );
  });

  it('is kept by every scheme', () => {
    const grid = rackOf({ shelves: 2, traysPerShelf: 1, rows: 5, columns: 5 });
    for (const scheme of ['completely-randomised', 'latin-square', 'row-and-column'] as const) {
      const trial = trialOf([withTimes(factorOf(1, 'pot', 4), { 1: 2 })], { scheme });
      const { assignments } = layoutOf(inputOf(grid, trial), scheme);
      expect(potsOf(assignments, 4)).toEqual([20, 10, 10, 10]);
      if (scheme === 'completely-randomised') continue;
      // Rows and columns of a tray hold a full set each.
      for (const line of [1, 2]) {
        for (const i of [1, 2, 3, 4, 5]) {
          const own = assignments.filter(
            (a) => a.potId.startsWith('t101:') && a.potId.split(':')[line] === String(i),
          );
          expect(potsOf(own, 4)).toEqual([2, 1, 1, 1]);
        }
      }
    }
    const split = trialOf([withTimes(factorOf(1, 'tray', 2), { 1: 2 }), factorOf(2, 'pot', 2)], {
      blocks: { by: 'shelf' },
      scheme: 'split-plot',
    });
    const trays = rackOf({ shelves: 3, traysPerShelf: 3, rows: 2, columns: 2 });
    const { assignments } = layoutOf(inputOf(trays, split), 'split');
    for (const block of byBlock(assignments)) expect(potsOf(block, 2)).toEqual([8, 4]);
    expect(unitsOf(inputOf(trays, split)).factors[0]?.unitsPerLevel.map((l) => l.units)).toEqual([
      6, 3,
    ]);
  });

  it('counts in the balance table and in plants dealt by size', () => {
    const plants = Array.from({ length: 20 }, (_, i) => ({ code: `p${i}`, startValue: i }));
    const { layout } = drawLayout({ ...sound, ...drawn, seed: 'plants', plants });
    const start = new Map(plants.map((plant) => [plant.code, plant.startValue] as const));
    const startByPot = new Map(
      layout.assignments.map((a) => [a.potId, start.get(a.plant ?? '') ?? NaN]),
    );
    const table = balanceOf({ ...sound, startByPot }, layout);
    expect(table.treatments.map((row) => row.pots)).toEqual([8, 4, 4, 4]);
    // One plant of every class of five to each treatment and two to the control: means of treatments
    // lie within the span of a class of the mean 9.5, those of the control within half of it.
    for (const row of table.treatments) {
      expect(Math.abs((row.meanStart ?? NaN) - 9.5)).toBeLessThanOrEqual(2);
    }
    const control = layout.assignments.filter((a) => a.levels.f1 === 'l101');
    for (const first of [0, 5, 10, 15]) {
      const inClass = control.filter((a) => {
        const value = start.get(a.plant ?? '') ?? NaN;
        return value >= first && value < first + 5;
      });
      expect(inClass).toHaveLength(2);
    }
  });
});

describe('incomplete blocks with a control in excess', () => {
  it('follows the times, twice in no block, with the efficiency of the known design', () => {
    // A balanced design for six treatments in ten blocks of three (Fisher & Yates, table XVII) has
    // E = 0.8. Here seven treatments, the first wanted ten times to the others' five, in blocks of
    // four: adding it to every block of that design makes a reinforced one (Das 1958, J. Indian Soc.
    // Agric. Statist. 10).
    const design = incompleteDesign(
      [2, 1, 1, 1, 1, 1, 1],
      Array.from({ length: 10 }, () => 4),
    );
    const counts = [0, 1, 2, 3, 4, 5, 6].map((t) => design.filter((b) => b.includes(t)).length);
    expect(counts).toEqual([10, 5, 5, 5, 5, 5, 5]);
    for (const block of design) expect(new Set(block).size).toBe(4);
    const reinforced = incompleteDesign(
      [1, 1, 1, 1, 1, 1],
      Array.from({ length: 10 }, () => 3),
    ).map((block) => [0, ...block.map((t) => t + 1)]);
    expect(efficiencyFactor(design, 7)).toBeGreaterThanOrEqual(
      efficiencyFactor(reinforced, 7) - 1e-12,
    );
  });

  it('draws on the rack', () => {
    const trial = trialOf([withTimes(factorOf(1, 'pot', 7), { 1: 2 })], {
      blocks: { by: 'tray' },
      scheme: 'incomplete-blocks',
    });
    const racks = rackOf({ shelves: 5, traysPerShelf: 2, rows: 2, columns: 2 });
    const { assignments } = layoutOf(inputOf(racks, trial), 'control');
    expect(potsOf(assignments, 7)).toEqual([10, 5, 5, 5, 5, 5, 5]);
    for (const block of byBlock(assignments)) {
      expect(potsOf(block, 7)[0]).toBe(1);
    }
    expect(layoutEfficiency(trial, { assignments })).toBeGreaterThan(0.8);
  });
});
