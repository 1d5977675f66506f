import { describe, expect, it } from 'vitest';
import {
  blockEfficiency,
  latinEfficiency,
  lineEfficiency,
  lightInBlocks,
  smallSampleFactor,
} from '../../../renderer/engine/trial';
import { domedLight, factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

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

describe('efficiency with rows and columns allowed for', () => {
  const laid = (square: number[][]) => {
    const rack = rackOf({
      shelves: 1,
      traysPerShelf: 1,
      rows: square.length,
      columns: square[0]?.length ?? 0,
    });
    const treatments = Math.max(...square.flat()) + 1;
    const trial = trialOf([factorOf(1, 'pot', treatments)], { scheme: 'row-and-column' });
    const assignments = square.flatMap((line, r) =>
      line.map((t, c) => ({
        potId: `t101:${r + 1}:${c + 1}`,
        block: '',
        levels: { f1: `l10${t + 1}` },
        plant: null,
      })),
    );
    return lineEfficiency(inputOf(rack, trial), { assignments });
  };
  const turned = (starts: number[], treatments: number) =>
    starts.map((start) => Array.from({ length: treatments }, (_, i) => (start + i) % treatments));

  it('is 1 in a Latin square and λt/(rk) in Youden squares', () => {
    expect(laid(turned([0, 1, 2, 3], 4))).toBeCloseTo(1, 12);
    // Youden 1937, Contr. Boyce Thompson Inst. 9:41–48; Cochran & Cox 1957, ch. 13: seven
    // treatments in columns of three, λ 1, E 7/9; seven in columns of four, λ 2, E 7/8.
    expect(laid(turned([0, 1, 3], 7))).toBeCloseTo(7 / 9, 12);
    expect(laid(turned([0, 3, 5, 6], 7))).toBeCloseTo(7 / 8, 12);
  });

  it('is 0 where columns hold treatments apart', () => {
    expect(
      laid([
        [0, 1, 2, 3],
        [1, 0, 3, 2],
      ]),
    ).toBe(0);
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
