import { describe, expect, it } from 'vitest';
import { potsToMeasure } from '../../../renderer/document/queries';
import { labelBook, potsInOrder } from '../../../renderer/document/records';
import type { PotOrder } from '../../../renderer/document/records';
import { drawnPlan } from '../../builders/samplePlan';

// Two trays of two rows by three columns: 1A and 2A.
const plan = drawnPlan();
const pots = potsToMeasure(plan);
const order = (by: PotOrder, plantOf: (id: string) => string | null = () => null) =>
  potsInOrder(pots, by, plantOf).map((pot) => pot.code);
const tray = (letters: string, shelf: number) => letters.split(' ').map((c) => `${shelf}A-${c}`);

describe('the order in which pots are visited', () => {
  it('goes tray by tray: there and back, by rows or by columns', () => {
    for (const [by, codes] of [
      ['there-and-back', 'A1 A2 A3 B3 B2 B1'],
      ['rows', 'A1 A2 A3 B1 B2 B3'],
      ['columns', 'A1 B1 A2 B2 A3 B3'],
    ] as const) {
      expect(order(by)).toEqual([...tray(codes, 1), ...tray(codes, 2)]);
    }
  });

  it('goes by plant over all trays, nine before ten, nameless plants last', () => {
    const plants = new Map([
      ['t2:1:1', 'P9'],
      ['t1:2:2', 'P10'],
      ['t1:1:1', 'P2'],
    ]);
    const visited = order('plants', (id) => plants.get(id) ?? null);
    expect(visited.slice(0, 3)).toEqual(['1A-A1', '2A-A1', '1A-B2']);
    expect(visited).toHaveLength(12);
  });
});

describe('what a label says', () => {
  const find = labelBook(plan);
  it('is the code of the pot, its id or its plant, in any case', () => {
    for (const label of ['1A-B2', '1ab2', '1a b2', 't1:2:2', 'T1:2:2']) {
      expect(find(label)).toMatchObject({ id: 't1:2:2' });
    }
    expect(find('p1')).toMatchObject({ id: 't1:1:1' });
  });

  it('may come with the kind of code before it, as scanners send it', () => {
    for (const label of [']Q1t1:2:2', ']d21A-B2'])
      expect(find(label)).toMatchObject({ id: 't1:2:2' });
  });

  it('is nothing where no pot fits, and never a weight', () => {
    for (const label of ['9Z-A1', 't1:9:9', '', '12.43', '1e3', '12 g']) {
      expect(find(label)).toBeUndefined();
    }
  });
});
