import { produce } from 'immer';
import { describe, expect, it } from 'vitest';
import {
  gridThatFits,
  holeCentre,
  letterOf,
  potsOfTray,
  turnedBounds,
  walkingOrder,
} from '../../../renderer/engine/geometry';
import type { PotGrid, Rack, Shelf, Tray } from '../../../shared-types/rack';
import { samplePlan } from '../../builders/samplePlan';

const grid: PotGrid = {
  pattern: 'square',
  rows: 6,
  columns: 3,
  pitchXMm: 100,
  pitchYMm: 90,
  potDiameterMm: 80,
  potHeightMm: 90,
  firstXMm: 50,
  firstYMm: 45,
  guardRing: true,
  guards: [],
  empty: [],
};
const tray: Tray = {
  id: 't7',
  letter: 'B',
  xMm: 20,
  yMm: 10,
  widthMm: 300,
  depthMm: 540,
  rimHeightMm: 60,
  grid,
};
const shelf: Shelf = {
  id: 's1',
  number: 2,
  widthMm: 1200,
  depthMm: 600,
  heightMm: 0,
  clearanceMm: 450,
  ratedLoadKg: null,
  canopy: { plantingMm: 100, harvestMm: 200 },
  reflectances: { above: 0, canopy: 0, front: 0, back: 0, left: 0, right: 0 },
  trays: [tray],
  lamps: [],
};

describe('pot codes', () => {
  it('reads shelf, tray, row, column as design §2 lays down (2B-C7)', () => {
    const wide: Tray = { ...tray, grid: { ...grid, columns: 8, pitchXMm: 30 } };
    const pot = potsOfTray(shelf, wide).find((p) => p.row === 3 && p.column === 7);
    expect(pot?.code).toBe('2B-C7');
    expect(pot?.id).toBe('t7:3:7');
  });

  it('leaves out I and O, which read as 1 and 0 on a wet label', () => {
    expect([8, 9, 13, 14, 15, 24, 25].map(letterOf)).toEqual(['H', 'J', 'N', 'P', 'Q', 'Z', 'AA']);
  });

  it('never gives two rows the same letters', () => {
    const letters = Array.from({ length: 2000 }, (_, i) => letterOf(i + 1));
    expect(new Set(letters).size).toBe(2000);
  });
});

describe('guard ring', () => {
  // Counts: 2r + 2c − 4 guards and (r − 2)(c − 2) measured; trade facts 7.3.
  it.each([
    [6, 3, 14, 4],
    [8, 4, 20, 12],
    [10, 5, 26, 24],
  ])('of a %i × %i grid has %i guard pots and leaves %i', (rows, columns, guards, measured) => {
    const pots = potsOfTray(shelf, { ...tray, grid: { ...grid, rows, columns } });
    expect(pots.filter((p) => p.guard)).toHaveLength(guards);
    expect(pots.filter((p) => !p.guard)).toHaveLength(measured);
  });
});

describe('positions', () => {
  it('places pots in the shelf’s axes', () => {
    const pot = potsOfTray(shelf, tray).find((p) => p.row === 2 && p.column === 3);
    expect(pot).toMatchObject({ xMm: 20 + 250, yMm: 10 + 135, edgeDistanceMm: 50 });
  });

  it('shifts every second row of a staggered grid by half a pitch', () => {
    const staggered: PotGrid = { ...grid, pattern: 'staggered' };
    expect(holeCentre(staggered, 1, 1).xMm).toBe(50);
    expect(holeCentre(staggered, 2, 1).xMm).toBe(100);
  });

  it('leaves empty holes out', () => {
    const pots = potsOfTray(shelf, { ...tray, grid: { ...grid, empty: ['1:1', '6:3'] } });
    expect(pots).toHaveLength(16);
  });

  it('walks every second row backwards', () => {
    const codes = walkingOrder(potsOfTray(shelf, tray)).map((p) => p.code.slice(3));
    expect(codes.slice(0, 7)).toEqual(['A1', 'A2', 'A3', 'B3', 'B2', 'B1', 'C1']);
  });

  it('fits a grid that stays inside the tray and would not with one more', () => {
    const fits = gridThatFits(1150, 550, {
      diameterMm: 90,
      pitchXMm: 110,
      pitchYMm: 110,
      pattern: 'square',
    });
    expect(fits).toMatchObject({ rows: 5, columns: 10 });
    expect(fits.firstXMm - 45).toBeGreaterThanOrEqual(0);
    expect(90 + fits.columns * 110).toBeGreaterThan(1150);
  });

  it('bounds a strip turned by a right angle', () => {
    const box = turnedBounds({ xMm: 100, yMm: 50 }, 60, 20, 90);
    expect(box.widthMm).toBeCloseTo(20, 9);
    expect(box.depthMm).toBeCloseTo(60, 9);
  });
});

describe('pots that are listed already', () => {
  const { rack } = samplePlan();
  const listsOf = ({ shelves }: Rack) =>
    shelves.flatMap((shelf) => shelf.trays.map((tray) => potsOfTray(shelf, tray)));
  const changed = (change: (rack: Rack) => void) => listsOf(produce(rack, change));

  it('are the same list in every tray but the one that moved', () => {
    const before = listsOf(rack);
    const after = changed(({ shelves: [shelf] }) => {
      for (const tray of shelf?.trays.slice(0, 1) ?? []) tray.xMm += 10;
    });
    expect(after.map((pots, i) => pots === before[i])).toEqual(before.map((_, i) => i > 0));
    expect(after[0]?.[0]?.xMm).toBe((before[0]?.[0]?.xMm ?? NaN) + 10);
  });

  it('are listed anew where what they stand on changed', () => {
    const before = listsOf(rack);
    const after = changed(({ shelves: [shelf] }) => {
      if (shelf) shelf.number = 77;
    });
    expect(after[0]?.[0]?.code).toMatch(/^77/);
    expect(after[0]).not.toBe(before[0]);
  });

  it('follow a draft while it changes', () => {
    changed(({ shelves: [shelf] }) => {
      const [tray] = shelf?.trays ?? [];
      if (!shelf || !tray?.grid) throw new Error('the sample has pots');
      const many = potsOfTray(shelf, tray).length;
      tray.grid.rows += 1;
      expect(potsOfTray(shelf, tray).length).toBe(many + tray.grid.columns);
    });
  });
});
