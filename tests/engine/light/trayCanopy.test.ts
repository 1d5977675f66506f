import { describe, expect, it } from 'vitest';
import type { Canopy, Shelf } from '../../../shared-types/rack';
import { canopyHeightMm, canopyOver, grownByTray } from '../../../renderer/engine/geometry';
import { hangingNotices } from '../../../renderer/engine/lamps';
import { lightEnergy, potLight, rotatedLight, shelfField } from '../../../renderer/engine/light';
import { kind, lamp, lightPlan, shelf, tray } from './racks';

const one = tray().grid;
const grid = one ? { ...one, rows: 1, columns: 1, firstXMm: 300, firstYMm: 300 } : null;
const spot = kind({ shape: 'spot', lengthMm: 0 });
/** A spot over the only pot of each of two trays; the right one may have a canopy of its own. */
function twoTrays(canopy?: Canopy): Shelf {
  return shelf({
    canopy: { plantingMm: 50, harvestMm: 100 },
    lamps: [300, 900].map((xMm, i) => lamp({ id: `l${i + 1}`, xMm, yMm: 300 })),
    trays: [
      tray({ id: 't1', letter: 'A', widthMm: 600, grid }),
      tray({ id: 't2', letter: 'B', xMm: 600, widthMm: 600, grid, ...(canopy ? { canopy } : {}) }),
    ],
  });
}
const TALL = { plantingMm: 100, harvestMm: 200 };

/** E = I cos θ / d² with I = Φ cos θ / π of a Lambertian spot that faces down (inverse-square law). */
function bySpots(xMm: number, heightMm: number): number {
  const down = (300 - heightMm) / 1000;
  return [300, 900].reduce((sum, at) => {
    const d2 = down ** 2 + ((at - xMm) / 1000) ** 2;
    return sum + ((40 / Math.PI) * down ** 2) / d2 ** 2;
  }, 0);
}

describe('canopy height by tray', () => {
  const at = (canopy?: Canopy, canopyAt: 'planting' | 'harvest' | 'midway' = 'harvest') => {
    const rack = { shelves: [twoTrays(canopy)], lampKinds: [spot] };
    return potLight(rack, lightPlan({ canopyAt }));
  };

  it('each pot has the light at the canopy of its own tray, by the inverse-square law', () => {
    for (const [when, low, high] of [
      ['planting', 50, 100],
      ['harvest', 100, 200],
      ['midway', 75, 150],
    ] as const) {
      const { pots, trays } = at(TALL, when);
      expect(pots.get('t1:1:1')?.ppfdUmol).toBeCloseTo(bySpots(300, low), 6);
      expect(pots.get('t2:1:1')?.ppfdUmol).toBeCloseTo(bySpots(900, high), 6);
      expect([trays.get('t1')?.heightMm, trays.get('t2')?.heightMm]).toEqual([low, high]);
    }
  });

  it('without a height of its own a tray has that of its shelf', () => {
    const { pots, shelves } = at();
    expect(pots.get('t2:1:1')?.ppfdUmol).toBeCloseTo(bySpots(900, 100), 6);
    expect(shelves.get('s1')?.heightMm).toBe(100);
  });

  it('has grown by tray where a tray differs from its shelf, but not at planting', () => {
    const grown = (canopy: Canopy | undefined, at: 'planting' | 'harvest' | 'midway') =>
      grownByTray([twoTrays(canopy)], at);
    expect([grown(TALL, 'harvest'), grown(TALL, 'midway')]).toEqual([true, true]);
    expect(grown(TALL, 'planting')).toBe(false);
    expect(grown(undefined, 'harvest')).toBe(false);
    expect(grown({ plantingMm: 50, harvestMm: 100 }, 'harvest')).toBe(false);
  });

  it('the floor that reflects is the mean over trays by their area', () => {
    expect(canopyHeightMm(twoTrays(TALL), 'harvest')).toBe(150);
    const wide = { ...twoTrays(TALL) };
    wide.trays = wide.trays.map((t) => (t.id === 't1' ? { ...t, depthMm: 200 } : t));
    expect(canopyHeightMm(wide, 'harvest')).toBeCloseTo((100 * 200 + 200 * 600) / 800, 9);
    expect(canopyOver(twoTrays(TALL), 'harvest')(900, 300)).toBe(200);
  });

  it('the picture and its contours are taken at the canopy of the tray there', () => {
    const drawn = twoTrays(TALL);
    const field = shelfField(drawn, [spot], {
      heightMm: canopyHeightMm(drawn, 'harvest'),
      heightAt: canopyOver(drawn, 'harvest'),
      gridMm: 100,
    });
    expect(field.xs[2]).toBe(250);
    const row = 2 * field.columns;
    const off = (xMm: number) => (x: number) => Math.hypot((x - xMm) / 1000, 0.05) ** 2;
    const lit = (xMm: number, heightMm: number) =>
      [300, 900].reduce((sum, x) => {
        const down2 = ((300 - heightMm) / 1000) ** 2;
        return sum + ((40 / Math.PI) * down2) / (down2 + off(xMm)(x)) ** 2;
      }, 0);
    expect(field.ppfd[row + 2]).toBeCloseTo(lit(250, 100), 6);
    expect(field.ppfd[row + 8]).toBeCloseTo(lit(850, 200), 6);
  });

  it('light over the trial and the share on pots take it too; the plants go with their tray', () => {
    const rack = { shelves: [twoTrays(TALL)], lampKinds: [spot] };
    const plan = lightPlan({ canopyAt: 'harvest' });
    const swap = { t1: { placeOf: 't2', turned: false }, t2: { placeOf: 't1', turned: false } };
    const { pots } = rotatedLight(rack, plan, [{ fromDay: 1, toDay: 10, places: swap }], 10);
    expect(pots.get('t2:1:1')?.ppfdUmol).toBeCloseTo(bySpots(300, 200), 6);
    const share = lightEnergy(rack, plan, 1).shelves[0]?.shareOnPots ?? NaN;
    const onPots = (bySpots(300, 100) + bySpots(900, 200)) * Math.PI * 0.05 ** 2;
    expect(share).toBeCloseTo(onPots / 80, 9);
  });

  it('only a lamp that plants of the tray beneath reach is told', () => {
    const told = (canopy: Canopy) =>
      hangingNotices({ shelves: [twoTrays(canopy)], lampKinds: [spot] }, 'metric')
        .filter(({ kind: of }) => of === 'canopy-reaches-lamp')
        .flatMap(({ about }) => about[0]);
    expect(told({ plantingMm: 50, harvestMm: 300 })).toEqual(['lamp:l2']);
    expect(told({ plantingMm: 50, harvestMm: 299 })).toEqual([]);
  });
});
