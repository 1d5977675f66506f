import { describe, expect, it } from 'vitest';
import { unitsOf } from '../../../renderer/engine/trial';
import { factorOf, inputOf, rackOf, soundSplitPlot, trialOf } from '../../builders/trialInput';

const lines = (input: Parameters<typeof unitsOf>[0]) =>
  unitsOf(input).skeleton.map((row) => [row.source, row.df, row.stratum, row.isError]);

describe('skeleton analysis of variance', () => {
  it('has the degrees of freedom of the oats split plot', () => {
    // Yates 1935: 6 blocks, 3 varieties on whole plots, 4 nitrogen rates on subplots:
    // block 5, variety 2, main error 10, nitrogen 3, variety × nitrogen 6, sub error 45.
    const rack = rackOf({ shelves: 6, traysPerShelf: 3, rows: 2, columns: 2 });
    const trial = trialOf([factorOf(1, 'tray', 3), factorOf(2, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'split-plot',
    });
    expect(lines(inputOf(rack, trial))).toEqual([
      ['blocks', 5, 'blocks', false],
      ['Factor 1', 2, 'trays', false],
      ['between trays', 10, 'trays', true],
      ['Factor 2', 3, 'pots', false],
      ['Factor 1 × Factor 2', 6, 'pots', false],
      ['between pots', 45, 'pots', true],
    ]);
  });

  it('has those of the rice trial in complete blocks', () => {
    // Gomez & Gomez 1984 (trade-facts 7.9 C): block 3, rate 5, error 15.
    const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 2, columns: 3 });
    const trial = trialOf([factorOf(1, 'pot', 6)], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
    });
    expect(lines(inputOf(rack, trial)).map((row) => row[1])).toEqual([3, 5, 15]);
  });

  it('has those of the plants within shelves', () => {
    // trade-facts 7.9 G: treatments 1, shelves 4, plants 18.
    const rack = rackOf({ shelves: 6, traysPerShelf: 1, rows: 2, columns: 2 });
    const report = unitsOf(inputOf(rack, trialOf([factorOf(1, 'shelf', 2)])));
    expect(report.skeleton.map((row) => row.df)).toEqual([1, 4, 18]);
    expect(report.factors[0]).toMatchObject({
      unit: 'shelf',
      unitCount: 6,
      errorTerm: 'between shelves',
      errorDf: 4,
      replicated: true,
    });
  });

  it('has those of the wireworm Latin square', () => {
    // Cochran 1938 (trade-facts 7.9 E): rows 4, columns 4, treatments 4, error 12.
    const rack = rackOf({ shelves: 1, traysPerShelf: 1, rows: 5, columns: 5 });
    const trial = trialOf([factorOf(1, 'pot', 5)], { scheme: 'latin-square' });
    expect(lines(inputOf(rack, trial))).toEqual([
      ['rows within trays', 4, 'pots', false],
      ['columns within trays', 4, 'pots', false],
      ['Factor 1', 4, 'pots', false],
      ['between pots', 12, 'pots', true],
    ]);
  });

  it('lays whole trays out in a square of shelves and places', () => {
    const rack = rackOf({ shelves: 4, traysPerShelf: 4, rows: 3, columns: 3 });
    const trial = trialOf([factorOf(1, 'tray', 4)], { scheme: 'latin-square' });
    expect(lines(inputOf(rack, trial))).toEqual([
      ['shelves', 3, 'trays', false],
      ['places on the shelf', 3, 'trays', false],
      ['Factor 1', 3, 'trays', false],
      ['between trays', 6, 'trays', true],
      ['between pots', 128, 'pots', true],
    ]);
  });

  it('splits three ways and always sums to the pots less one', () => {
    const rack = rackOf({ shelves: 4, traysPerShelf: 3, rows: 4, columns: 4 });
    const trial = trialOf(
      [factorOf(1, 'shelf', 2), factorOf(2, 'tray', 3), factorOf(3, 'pot', 2)],
      {
        scheme: 'split-plot',
      },
    );
    const rows = lines(inputOf(rack, trial));
    expect(rows.reduce((sum, row) => sum + Number(row[1]), 0)).toBe(4 * 3 * 16 - 1);
    // Shelves 3 = A 1 + error 2; trays 8 = B 2 + AB 2 + error 4; pots 180 = C, AC, BC, ABC + 174.
    expect(rows.map((row) => row[1])).toEqual([1, 2, 2, 2, 4, 1, 1, 2, 2, 174]);
  });

  it('says that one shelf a level is not replicated', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 4 });
    const report = unitsOf(inputOf(rack, trialOf([factorOf(1, 'shelf', 2)])));
    expect(report.factors[0]).toMatchObject({ replicated: false, errorDf: 0 });
  });

  it('calls the sound plan replicated', () => {
    const { factors } = unitsOf(soundSplitPlot());
    expect(factors.map((f) => [f.unit, f.replicated, f.errorDf])).toEqual([
      ['tray', true, 4],
      ['pot', true, 216 - 9 - 9],
    ]);
  });
});
