import { describe, expect, it } from 'vitest';
import type { Blocks } from '../../../shared-types/trial/scheme';
import { blockNames, blocksOf, measuredPots } from '../../../renderer/engine/trial';
import { domedLight, inputOf, rackOf, trialOf } from '../../builders/trialInput';

const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 5 });
const blocks = (by: Blocks, on = rack) => blocksOf(inputOf(on, trialOf([], { blocks: by })));
const sizes = (by: Blocks, on = rack) =>
  Object.fromEntries(blocks(by, on).map((block) => [block.name, block.potIds.length]));

describe('blocks', () => {
  it('by shelf and by tray', () => {
    expect(sizes({ by: 'none' })).toEqual({ 'All pots': 80 });
    expect(sizes({ by: 'shelf' })).toEqual({ 'Shelf 1': 40, 'Shelf 2': 40 });
    expect(sizes({ by: 'tray' })).toEqual({
      'Tray 1A': 20,
      'Tray 1B': 20,
      'Tray 2A': 20,
      'Tray 2B': 20,
    });
  });

  it('halves a tray evenly, across the way that allows it', () => {
    // Five columns do not halve, four rows do.
    expect(Object.entries(sizes({ by: 'tray-halves' })).slice(0, 2)).toEqual([
      ['Tray 1A front', 10],
      ['Tray 1A back', 10],
    ]);
    const wide = rackOf({ shelves: 1, traysPerShelf: 1, rows: 4, columns: 6 });
    expect(sizes({ by: 'tray-halves' }, wide)).toEqual({
      'Tray 1A left': 12,
      'Tray 1A right': 12,
    });
    expect(sizes({ by: 'tray-quarters' }, wide)).toEqual({
      'Tray 1A front left': 6,
      'Tray 1A front right': 6,
      'Tray 1A back left': 6,
      'Tray 1A back right': 6,
    });
  });

  it('bands rows and columns over the whole shelf', () => {
    expect(sizes({ by: 'rows', perBlock: 2 })).toEqual({
      'Shelf 1 rows 1–2': 20,
      'Shelf 1 rows 3–4': 20,
      'Shelf 2 rows 1–2': 20,
      'Shelf 2 rows 3–4': 20,
    });
    // Ten columns on a shelf: the second tray's count on from the first's.
    expect(Object.keys(sizes({ by: 'columns', perBlock: 4 })).slice(0, 3)).toEqual([
      'Shelf 1 columns 1–4',
      'Shelf 1 columns 5–8',
      'Shelf 1 columns 9–10',
    ]);
  });

  it('leaves guard pots out and still counts their rows', () => {
    const guarded = rackOf({ shelves: 1, traysPerShelf: 1, rows: 6, columns: 6, guardRing: true });
    expect(sizes({ by: 'rows', perBlock: 2 }, guarded)).toEqual({
      'Shelf 1 rows 2–3': 8,
      'Shelf 1 rows 4–5': 8,
    });
  });

  it('bands the light into equal sizes, dimmest first', () => {
    const light = domedLight(rack, 0.3);
    const bands = blocksOf(
      inputOf(rack, trialOf([], { blocks: { by: 'light', bands: 4 } }), light),
    );
    expect(bands.map((band) => band.potIds.length)).toEqual([20, 20, 20, 20]);
    const highest = (i: number) =>
      Math.max(...(bands[i]?.potIds ?? []).map((id) => light.get(id) ?? 0));
    const lowest = (i: number) =>
      Math.min(...(bands[i]?.potIds ?? []).map((id) => light.get(id) ?? 0));
    for (const i of [0, 1, 2]) expect(highest(i)).toBeLessThanOrEqual(lowest(i + 1));
    expect(() => blocks({ by: 'light', bands: 4 })).toThrow('has no PPFD');
  });

  it('names a block for every measured pot', () => {
    for (const by of ['none', 'shelf', 'tray', 'tray-halves', 'tray-quarters'] as const) {
      expect(blockNames(blocks({ by })).size).toBe(measuredPots(rack).length);
    }
  });
});
