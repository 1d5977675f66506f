import { describe, expect, it } from 'vitest';
import { drawBalance, gapsOf } from '../../../renderer/derive';
import { drawLayout } from '../../../renderer/engine/trial';
import { balanceOf } from '../../../renderer/engine/trial/figures/balance';
import { domedLight, drawn, factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 6 });
const trial = trialOf([factorOf(1, 'pot', 3)], {
  blocks: { by: 'shelf' },
  scheme: 'complete-blocks',
  constraint: { acceptanceShare: 0.1, balance: ['light'], likeNeighbours: null },
});
const data = inputOf(rack, trial, domedLight(rack, 0.4));
const { layout, report } = drawLayout({ ...data, ...drawn, seed: 'balance' });

describe('the balance of a drawn layout', () => {
  it('is what the draw itself reported, and gains on any draw', () => {
    const told: number[] = [];
    const found = drawBalance({ data, layout }, (done) => told.push(done));
    expect(found?.stages).toEqual(report.stages);
    for (const { distance, threshold } of found?.stages ?? []) {
      expect(distance ?? Infinity).toBeLessThanOrEqual(threshold ?? -1);
    }
    expect(found?.here).toEqual(gapsOf(balanceOf(data, layout)));
    expect(found?.here.ppfdUmol).toBeLessThan(found?.free.ppfdUmol ?? 0);
    expect(told.at(-1)).toBe(200);
  });

  it('is not told of a layout that the plan has left behind', () => {
    const other = { ...data, trial: { ...trial, factors: [factorOf(1, 'pot', 2)] } };
    expect(drawBalance({ data: other, layout })).toBeNull();
  });
});
