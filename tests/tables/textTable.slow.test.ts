import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guessDecimal, readNumber, readTable } from '../../renderer/tables';

describe('reading a table', () => {
  it('reads quoted cells as RFC 4180 has them, with the line each row begins on', () => {
    const text = 'pot,note\r\n1A-A1,"a ""b"", c\r\nd"\r\n\r\n1A-A2,e\r\n';
    expect(readTable(text)).toEqual({
      ok: true,
      table: {
        columns: ['pot', 'note'],
        rows: [
          { line: 2, cells: ['1A-A1', 'a "b", c\r\nd'] },
          { line: 5, cells: ['1A-A2', 'e'] },
        ],
        separator: ',',
        decimal: '.',
        decimalStated: false,
        cutLine: null,
      },
    });
  });

  it.each([
    ['pot;weight\n1A-A1;12,5\n', ';', ','],
    ['pot\tweight\n1A-A1\t12.5\n', '\t', '.'],
    ['pot\tweight\n1A-A1\t12,5\n', '\t', ','],
    ['"pot;code",weight\n1A-A1,12.5\n', ',', '.'],
    ['pot|weight\n1A-A1|12\n', '|', '.'],
  ])('finds separator and decimal mark of %j', (text, separator, decimal) => {
    const read = readTable(text);
    expect(read.ok && [read.table.separator, read.table.decimal]).toEqual([separator, decimal]);
    expect(read.ok && read.table.columns).toHaveLength(2);
  });

  it('says where a file was cut off in the middle of a line', () => {
    const cut = (text: string) => {
      const read = readTable(text);
      return read.ok ? read.table.cutLine : read.problem;
    };
    expect(cut('pot,weight,mark\n1A-A1,3,\n1A-A2,1')).toBe(3);
    expect(cut('pot,weight,mark\n1A-A1,3,\n1A-A2,1\n')).toBeNull();
    expect(cut('pot,weight,mark\n1A-A1,3,\n1A-A2,1,')).toBeNull();
  });

  it('survives any text: a table, or a problem with its line', () => {
    const scrap = fc.oneof(
      fc.constantFrom(
        ...['"', ',', ';', '\n', '\r\n', '1A-A1', 'pot', '1e400', 'NaN', '-3', '=1+1'],
      ),
      fc.string({ unit: 'binary', maxLength: 4 }),
    );
    fc.assert(
      fc.property(fc.array(scrap, { maxLength: 40 }), (scraps) => {
        const read = readTable(scraps.join(''));
        if (!read.ok) expect(read.problem).toMatch(/^Line \d+: |^The table /);
        else
          for (const row of read.table.rows) {
            expect(row.cells).toHaveLength(read.table.columns.length);
          }
      }),
      { numRuns: 500 },
    );
  });

  it('fills short lines and refuses long ones by their line', () => {
    const short = readTable('pot,weight,leaves\n1A-A1,3\n');
    expect(short.ok && short.table.rows).toEqual([{ line: 2, cells: ['1A-A1', '3', ''] }]);
    expect(readTable('pot,weight\n1A-A1,3\n1A-A2,3,5\n')).toEqual({
      ok: false,
      problem: 'Line 3: found 3 cells, expected 2 as in the header (separated by comma).',
    });
  });

  it.each([
    ['', 'The table is empty.'],
    [' \n\n', 'The table is empty.'],
    ['pot,,weight\n1,2,3', 'Line 1: column 2 has no name.'],
    ['\n\npot,Weight,weight\n', 'Line 3: the column weight appears twice.'],
    [
      'pot,note\n1A-A1,ok\n1A-A2,"open\n',
      'Line 3: a quote is opened and not closed, or closed within a cell.',
    ],
  ])('refuses %j', (text, problem) => {
    expect(readTable(text)).toEqual({ ok: false, problem });
  });
});

describe('a table that is none', () => {
  it.each([
    ['one endless word', 'a'.repeat(5e6), 'ok'],
    ['one endless quote', `"${'a'.repeat(5e6)}`, 'Line 1: a quote is opened'],
    [
      'a workbook',
      'PK\u0003\u0004\u0014\u0000',
      'Line 1: this is a workbook; a table saved as text',
    ],
    ['UTF-16 without its mark', 'p\u0000o\u0000t\u0000', 'Line 1: this is a picture or another'],
    ['more lines than a trial has', 'pot\n'.repeat(1_000_002), 'more than 1000000 lines'],
  ])('survives %s', (_name, text, answer) => {
    const read = readTable(text);
    expect(read.ok ? 'ok' : read.problem).toContain(answer);
  });
});

describe('numbers in cells', () => {
  it.each([
    ['12.5', '.', 12.5],
    [' 12,5 ', ',', 12.5],
    ['-0.5', '.', -0.5],
    ['\u22123', '.', -3],
    ['.5', '.', 0.5],
    ['1e3', '.', 1000],
    ['12,5', '.', null],
    ['1.234,5', ',', 1234.5],
    ['1,234.5', '.', 1234.5],
    ['1.234,5', '.', null],
    ['1\u00A0234,5', ',', 1234.5],
    ['1 234', '.', null],
    ['1,234,567', '.', 1234567],
    ['1,234,567', ',', null],
    ['1.234', ',', null],
    ['1,234', '.', null],
    ['12 g', '.', null],
    ['1e999', '.', null],
    ['NaN', '.', null],
    ['0x10', '.', null],
  ] as const)('%j with %j is %j', (cell, decimal, value) => {
    expect(readNumber(cell, decimal)).toBe(value);
  });

  it('takes the comma for the decimal mark only where no cell says otherwise', () => {
    expect(guessDecimal(['1', '2,5', 'x'])).toBe(',');
    expect(guessDecimal(['1,234', '2.5'])).toBe('.');
    expect(guessDecimal(['1.234', '2,5'])).toBe(',');
    expect(guessDecimal(['1.234', '2.345'])).toBe('.');
    expect(guessDecimal(['1', '2'])).toBe('.');
  });
});
