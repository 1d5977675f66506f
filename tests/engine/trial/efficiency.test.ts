import { describe, expect, it } from 'vitest';
import {
  blockEfficiency,
  latinEfficiency,
  lightInBlocks,
  smallSampleFactor,
} from '../../../renderer/engine/trial';
import { domedLight, inputOf, rackOf, trialOf } from './sample';

describe('efficiency of blocks', () => {
  it('is that of the rice trial', () => {
    // Gomez & Gomez 1984 (trade-facts 7.9 C): block 648120.2778, error 110558.4111; r 4, t 6.
    const efficiency = blockEfficiency({
      blocks: 4,
      potsPerBlock: 6,
      blockMs: 1944360.8333333 / 3,
      errorMs: 1658376.1666667 / 15,
    });
    expect(efficiency).toBeCloseTo(1.634205616, 8);
    expect(smallSampleFactor(4, 6)).toBeCloseTo(0.9824561404, 9);
    expect(efficiency * smallSampleFactor(4, 6)).toBeCloseTo(1.605535342, 8);
  });

  it('is that of the wireworm square', () => {
    // Cochran 1938 (trade-facts 7.9 E): rows 84.56, columns 22.16 on 4 df each, error 106.88 on 12.
    const found = latinEfficiency({
      order: 5,
      rowMs: 84.56 / 4,
      columnMs: 22.16 / 4,
      errorMs: 106.88 / 12,
    });
    expect(found.againstNone).toBeCloseTo(1.165918164, 8);
    expect(found.againstRows).toBeCloseTo(0.9244011976, 8);
    expect(found.againstColumns).toBeCloseTo(1.274700599, 8);
  });

  it('refuses an error of nothing', () => {
    expect(() => blockEfficiency({ blocks: 2, potsPerBlock: 2, blockMs: 1, errorMs: 0 })).toThrow(
      'above 0',
    );
  });
});

describe('light in blocks', () => {
  const rack = rackOf({ shelves: 1, traysPerShelf: 1, rows: 2, columns: 2 });
  const light = new Map([
    ['t101:1:1', 100],
    ['t101:1:2', 110],
    ['t101:2:1', 190],
    ['t101:2:2', 200],
  ]);
  const input = inputOf(rack, trialOf([], { blocks: { by: 'rows', perBlock: 1 } }), light);

  it('splits the sum of squares as by hand', () => {
    // Mean 150; between rows 2·45²·2 = 8100, within 4·5² = 100.
    const found = lightInBlocks(input);
    expect(found?.cvAll).toBeCloseTo(Math.sqrt(8200 / 3) / 150, 12);
    expect(found?.cvWithin).toBeCloseTo(Math.sqrt(100 / 2) / 150, 12);
    expect(found?.shareBetween).toBeCloseTo(8100 / 8200, 12);
    // E_b 8100 on 1, E_e 50: [1·8100 + 2·1·50]/[3·50].
    expect(found?.relativeEfficiency).toBeCloseTo(8200 / 150, 10);
  });

  it('counts plant-to-plant spread as error', () => {
    // perUmol 0.1: E_b = 4 + 81, E_e = 4 + 0.5.
    const found = lightInBlocks(input, { plantSd: 2, perUmol: 0.1 });
    expect(found?.relativeEfficiency).toBeCloseTo((85 + 2 * 4.5) / (3 * 4.5), 10);
  });

  it('is unknown without light, and finds bands of light the best blocks', () => {
    expect(lightInBlocks(inputOf(rack, trialOf([])))).toBeNull();
    const wide = rackOf({ shelves: 2, traysPerShelf: 1, rows: 4, columns: 12 });
    const dome = domedLight(wide, 0.4);
    const share = (blocks: Parameters<typeof trialOf>[1]) =>
      lightInBlocks(inputOf(wide, trialOf([], blocks), dome))?.shareBetween ?? 0;
    expect(share({ blocks: { by: 'light', bands: 6 } })).toBeGreaterThan(
      share({ blocks: { by: 'columns', perBlock: 4 } }),
    );
    expect(share({ blocks: { by: 'shelf' } })).toBeCloseTo(0, 12);
  });
});
