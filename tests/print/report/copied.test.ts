import { expect, it } from 'vitest';
import { copiedTable, type FindingsTable } from '../../../renderer/print/report';
import { speakAs, STANDARD } from '../../../renderer/words';

const table: FindingsTable = {
  name: 'comparisons',
  caption: 'Differences <g>',
  columns: [
    { head: 'Pair' },
    { head: 'Difference', unit: 'g', numeric: true },
    { head: '95 % interval', numeric: true },
    { head: 'Under place', numeric: true },
  ],
  rows: [
    [
      { text: '=a − b', value: '=a − b' },
      { text: '−2.4', value: -2.412345 },
      { text: '−3.1 to −1.7', value: '−3.1 to −1.7', ends: [-3.1001, -1.7002] },
      { text: '−2.4', value: -2.4, under: '−3 to −2', mark: '≠ not clear' },
    ],
    [
      { text: 'a\tb', value: 'a\tb' },
      { text: '–', value: null },
      { text: 'none', value: 'none' },
      { text: '1.0', value: 1 },
    ],
  ],
};

it('a copied table gives spreadsheets full figures, one to a cell, and no formula', () => {
  expect(copiedTable(table).text).toBe(
    'Pair\tDifference (g)\t"95 % interval, lower"\t"95 % interval, upper"\tUnder place\n' +
      "'=a − b\t-2.412345\t-3.1001\t-1.7002\t-2.4\n" +
      '"a\tb"\t\tnone\t\t1\n',
  );
});

it('a copied table has the decimal sign of the computer that it is pasted on', () => {
  speakAs({ ...STANDARD, decimal: ',' });
  const { text } = copiedTable(table);
  speakAs(STANDARD);
  expect(text).toContain('\t-2,412345\t-3,1001\t-1,7002\t-2,4\n');
});

it('a copied table gives documents what is read, with figures that a spreadsheet takes for numbers', () => {
  const { html } = copiedTable(table);
  expect(html).toContain('<caption>Differences &lt;g&gt;</caption>');
  expect(html).toContain(
    '<tr><td>=a − b</td><td>-2.4</td><td>−3.1 to −1.7</td><td>−2.4 (−3 to −2) ≠ not clear</td></tr>',
  );
});
