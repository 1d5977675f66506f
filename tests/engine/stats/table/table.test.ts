import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../../../shared-types/fit';
import {
  categoryColumns,
  readTrialData,
  sortLevels,
} from '../../../../renderer/engine/stats/table';
import { tableFromCsvRows } from '../../../../renderer/tables';

const lines = [
  ['tray', 'feed', 'start', 'weight'],
  ['01', '2', '4.5', '10'],
  ['1', '10', '', 'NA'],
  ['01', '10', '5', '12'],
  ['1', '2', '5.5', ''],
  ['1', '2', '6', '11'],
];

// Rules of the batch contract: "Empty cells and NA are missing…".
describe('a table in long form', () => {
  it('is numeric where every filled cell is a number, and keeps the text of named groups', () => {
    const table = tableFromCsvRows(lines, new Set(['tray']));
    expect(table.columns['start']).toEqual([4.5, null, 5, 5.5, 6]);
    expect(table.columns['tray']).toEqual(['01', '1', '01', '1', '1']);
    expect(table.columns['weight']).toEqual([10, null, 12, null, 11]);
  });

  it('drops rows without a response, with whatever else is missing in them', () => {
    const request = fitRequestSchema.parse({
      response: 'weight',
      treatments: ['feed'],
      covariates: ['start'],
    });
    const data = readTrialData(request, tableFromCsvRows(lines, categoryColumns(request)));
    expect([data.n, data.dropped, [...data.rowIndex]]).toEqual([3, 2, [0, 2, 4]]);
    expect(data.factors.get('feed')?.levels).toEqual(['2', '10']);
    expect([...(data.factors.get('feed')?.codes ?? [])]).toEqual([0, 1, 0]);
  });

  it('names column and row of a missing treatment or covariate', () => {
    const at = (request: unknown, cells: string[][]): (() => unknown) => {
      const parsed = fitRequestSchema.parse(request);
      return () => readTrialData(parsed, tableFromCsvRows(cells, categoryColumns(parsed)));
    };
    const filled = lines.map((line, i) => (i === 2 ? ['1', '10', '', '3'] : line));
    expect(at({ response: 'weight', covariates: ['start'] }, filled)).toThrow(
      /column "start", row 2: the covariate is missing/,
    );
    expect(at({ response: 'weight', treatments: ['colour'] }, lines)).toThrow(
      /column "colour": not in the table; expected one of tray, feed, start, weight/,
    );
    expect(at({ response: 'weight', scale: 'log' }, [['weight'], ['1'], ['0']])).toThrow(
      /column "weight", row 2: found 0; the scale log needs a number above 0/,
    );
    expect(at({ response: 'weight', counts: 'poisson' }, [['weight'], ['1'], ['0.5']])).toThrow(
      /a count is a whole number/,
    );
    expect(at({ response: 'weight', treatments: ['feed'], covariates: ['feed'] }, lines)).toThrow(
      /column "feed": named as covariate and as treatment/,
    );
  });

  it('refuses ragged rows and repeated names', () => {
    expect(() => tableFromCsvRows([['a', 'b'], ['1']])).toThrow(/row 1: found 1 cells; expected 2/);
    expect(() => tableFromCsvRows([['a', 'a']])).toThrow(/"a" appears twice/);
    expect(() => tableFromCsvRows([['a', ' ']])).toThrow(/column 2: the name is empty; expected/);
  });

  it('takes any name for a column, also those that objects use themselves', () => {
    const table = tableFromCsvRows([
      ['constructor', '__proto__'],
      ['1', 'x'],
    ]);
    expect(Object.entries(table.columns)).toEqual([
      ['constructor', [1]],
      ['__proto__', ['x']],
    ]);
  });

  it('takes decimal numbers alone', () => {
    const numeric = (cell: string): boolean =>
      typeof tableFromCsvRows([['a'], [cell]]).columns['a']?.[0] === 'number';
    expect(
      ['1', '-1.5', '+2', '.5', '3.', '1e-3', '2E+4'].filter((cell) => !numeric(cell)),
    ).toEqual([]);
    expect(
      ['0x1F', '0b1', '1,5', '1 000', 'Infinity', '1e999', '--1', '1e'].filter(numeric),
    ).toEqual([]);
  });

  it('refuses sizes whose squares no number can hold', () => {
    const sized = (size: string) => () =>
      readTrialData(
        fitRequestSchema.parse({ response: 'y' }),
        tableFromCsvRows([['y'], ['0'], [size], [size]]),
      );
    expect(sized('1e61')).toThrow(/column "y": found values up to 1.00 × 10⁶¹ in size; expected/);
    expect(sized('1e-61')).toThrow(/in another unit/);
    expect(sized('1e-8')().n).toBe(3);
    expect(sized('0')().n).toBe(3);
  });

  it('sorts levels by number only where all are numbers', () => {
    expect(sortLevels(['10', '2', '2'])).toEqual(['2', '10']);
    expect(sortLevels(['n10', 'n2', 'N1'])).toEqual(['N1', 'n10', 'n2']);
  });
});
