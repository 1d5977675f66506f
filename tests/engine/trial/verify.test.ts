import { describe, expect, it } from 'vitest';
import { applySwaps, drawLayout, dealPlants, verifyLayout } from '../../../renderer/engine/trial';
import type { ListedPlant } from '../../../renderer/engine/trial';
import type { Layout } from '../../../shared-types/layout';
import { drawn, factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

const rack = rackOf({ shelves: 3, traysPerShelf: 1, rows: 2, columns: 4 });
const trial = trialOf([factorOf(1, 'pot', 4)], {
  blocks: { by: 'shelf' },
  scheme: 'complete-blocks',
});
const plants: ListedPlant[] = Array.from({ length: 28 }, (_, i) => ({
  code: `P${i + 1}`,
  startValue: 10 + ((i * 11) % 28) / 10,
}));
const input = { ...inputOf(rack, trial), listedPlants: plants };
const { layout } = drawLayout({ ...input, ...drawn, seed: 'verify', plants });

const altered = (change: (assignments: Layout['assignments']) => void): Layout => {
  const copy = structuredClone(layout);
  change(copy.assignments);
  return copy;
};
const at = (assignments: Layout['assignments'], index: number) => {
  const found = assignments[index];
  if (!found) throw new Error(`an assignment ${index} is expected`);
  return found;
};

describe('what differs from the draw, in words', () => {
  it('is nothing in an untouched layout with its plants', () => {
    expect(verifyLayout(input, layout)).toEqual({ redrawn: true, differing: [], said: [] });
  });

  it('names pot, level and block', () => {
    const changed = altered((list) => {
      at(list, 0).levels.f1 = at(list, 0).levels.f1 === 'l101' ? 'l102' : 'l101';
      at(list, 9).block = 'Shelf 1';
    });
    const { differing, said } = verifyLayout(input, changed);
    expect(differing).toEqual(['t101:1:1', 't201:1:2']);
    expect(said[0]).toMatch(/^Pot 1A-A1 has Level [12] of Factor 1 where Level [1-4] was drawn\.$/);
    expect(said[1]).toBe('Pot 2A-A2 has the block “Shelf 1” where “Shelf 2” was drawn.');
  });

  it('names pots that are missing or strange', () => {
    const short = altered((list) => list.pop());
    expect(verifyLayout(input, short).said).toEqual(['Pot 3A-B4 has no entry in the layout.']);
    const long = altered((list) => list.push({ ...at(list, 0), potId: 't9:1:1', plant: null }));
    expect(verifyLayout(input, long).said).toEqual([
      'Pot t9:1:1 is in the layout, but is no measured pot.',
    ]);
  });

  it('names two plants that were exchanged and not logged, and not those that were', () => {
    const [a, b] = [at(layout.assignments, 2), at(layout.assignments, 13)];
    const exchanged = altered((list) => {
      at(list, 2).plant = b.plant;
      at(list, 13).plant = a.plant;
    });
    expect(verifyLayout(input, exchanged).said).toEqual([
      `Pot 1A-A3 has plant ${b.plant ?? ''}; the seed deals plant ${a.plant ?? ''}.`,
      `Pot 2A-B2 has plant ${a.plant ?? ''}; the seed deals plant ${b.plant ?? ''}.`,
    ]);
    const swap = { date: '2026-03-02', a: a.potId, b: b.potId, reason: 'broken pot' };
    const assignments = applySwaps(trial, layout.assignments, [swap]);
    expect(verifyLayout(input, { ...layout, assignments, swaps: [swap] }).differing).toEqual([]);
  });

  it('follows plants that were given to pots after an exchange', () => {
    const swap = { date: '2026-03-02', a: 't101:1:1', b: 't301:2:4', reason: '' };
    const bare = layout.assignments.map((a) => ({ ...a, plant: null }));
    const swapped = applySwaps(trial, bare, [swap]);
    const { assignments } = dealPlants(trial, swapped, plants, 'verify');
    expect(verifyLayout(input, { ...layout, assignments, swaps: [swap] }).differing).toEqual([]);
  });

  it('lets a spare stand for a plant that was lost', () => {
    const broken = at(layout.assignments, 5).plant;
    const standing = new Set(layout.assignments.map((a) => a.plant));
    const spare = plants.find((plant) => !standing.has(plant.code))?.code ?? '';
    const substituted = altered((list) => (at(list, 5).plant = spare));
    expect(verifyLayout(input, substituted).differing).toEqual(['t101:2:2']);
    const listedPlants = plants.map((plant) =>
      plant.code === broken ? { ...plant, lost: true as const } : plant,
    );
    expect(verifyLayout({ ...input, listedPlants }, substituted).differing).toEqual([]);
  });

  it('names a plant in two pots, or on no list, whatever was dealt', () => {
    const twice = altered((list) => (at(list, 1).plant = at(list, 0).plant));
    expect(verifyLayout(input, twice).said[0]).toContain('which stands in 2 pots');
    const unlisted = { ...inputOf(rack, trial) };
    expect(verifyLayout(unlisted, twice).differing).toHaveLength(2);
    const stranger = altered((list) => (at(list, 1).plant = 'X9'));
    expect(verifyLayout(input, stranger).said).toEqual([
      'Pot 1A-A2 has plant X9, which is not on the list of plants.',
    ]);
  });

  it('does not cry when the list was changed after plants were dealt', () => {
    const listedPlants = plants.map((plant, i) => ({ ...plant, startValue: (i * 5) % 28 }));
    expect(verifyLayout({ ...input, listedPlants }, layout).differing).toEqual([]);
  });
});
