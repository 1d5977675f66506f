import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  dataTableCsv,
  parseDelimited,
  readTable,
  tableFromCsvRows,
  writeDelimited,
} from '../../renderer/tables';
import { guardText } from '../../renderer/tables/guard';

describe('text that a spreadsheet would run, or a reader would miss', () => {
  it.each(['=1+1', '+1', '-N', '@x', '\tx', '\rx', ' =1', "'=1", 'NA', "'NA"])(
    'leaves with an apostrophe: %j',
    (text) => {
      expect(guardText(text)).toBe(`'${text}`);
    },
  );

  it.each(['low N', "'quoted'", 'Na', 'NAA', '5 - 3', '−5'])('leaves alone %j', (text) => {
    expect(guardText(text)).toBe(text);
  });
});

// Signs that guard, separate, quote, run as formulas, are trimmed, or are no ASCII.
const signs = [...`aN=+-@'",;|\t\n\r 1.é漢\uFEFF`, 'NA', '__proto__', '😀'];
const text = fc.oneof(
  fc.string({ unit: fc.constantFrom(...signs), maxLength: 6 }),
  fc.string({ unit: 'binary', maxLength: 6 }),
);
const width = 3;
const row = fc
  .array(text, { minLength: width, maxLength: width })
  .filter((cells) => cells.some((cell) => cell.trim() !== ''));
const table = fc.array(row, { minLength: 1, maxLength: 5 });
const style = fc.record({
  separator: fc.constantFrom(',' as const, ';' as const, '\t' as const, '|' as const),
  byteOrderMark: fc.boolean(),
  lineEnd: fc.constantFrom('\r\n' as const, '\n' as const),
});

describe('any table of any strings', () => {
  it('comes in as it went out', () => {
    fc.assert(
      fc.property(table, style, (rows, how) => {
        const written = writeDelimited(rows, how);
        const { separator } = how;
        const back = parseDelimited(written, { separator });
        expect(back.ok && back.lines.map(({ cells }) => cells)).toEqual(rows);
        const raw = parseDelimited(written, { separator, raw: true });
        if (!raw.ok) throw new Error(raw.problem);
        for (const cell of raw.lines.flatMap(({ cells }) => cells)) {
          expect(cell).toMatch(/^(?!\s*[=+\-@\t\r\n])/);
        }
      }),
      { numRuns: 500 },
    );
  });

  // What a name may be, as the plan has it: trimmed and not empty.
  const name = text.map((t) => t.replace(/[\u0000-\u0008\u000E-\u001A\u001C-\u001F]/g, '').trim());
  const names = fc.uniqueArray(
    name.filter((t) => t !== ''),
    {
      minLength: width,
      maxLength: width,
      selector: (t) => t.toLowerCase(),
    },
  );
  const named = fc.array(
    fc.array(
      name.filter((t) => t !== ''),
      { minLength: width, maxLength: width },
    ),
    { minLength: 1, maxLength: 5 },
  );

  it('is read alike by the table dialog and by a fit, whichever separator they guess', () => {
    fc.assert(
      fc.property(names, named, style, (head, rows, how) => {
        const written = writeDelimited([head, ...rows], how);
        const shown = readTable(written);
        if (!shown.ok) throw new Error(shown.problem);
        expect(shown.table.columns).toEqual(head);
        expect(shown.table.rows.map(({ cells }) => cells)).toEqual(rows);
        const raw = parseDelimited(written, { raw: true });
        if (!raw.ok) throw new Error(raw.problem);
        const lines = raw.lines.map(({ cells }) => cells);
        const fitted = tableFromCsvRows(lines, new Set(head));
        head.forEach((column, i) => {
          expect(fitted.columns[column]).toEqual(rows.map((cells) => cells[i]));
        });
      }),
      { numRuns: 500 },
    );
  });

  it('keeps the columns of an analysis as they were', () => {
    fc.assert(
      fc.property(names, named, (head, rows) => {
        const columns = Object.fromEntries([
          ...head.map((column, i) => [column, rows.map((cells) => cells[i] ?? '')] as const),
          ['the response', rows.map((_, i) => (i === 0 ? null : -i / 2))],
        ]);
        const source = { columns, rowCount: rows.length };
        const parsed = parseDelimited(dataTableCsv(source), { raw: true });
        if (!parsed.ok) throw new Error(parsed.problem);
        const lines = parsed.lines.map(({ cells }) => cells);
        expect(tableFromCsvRows(lines, new Set(head))).toEqual(source);
      }),
      { numRuns: 300 },
    );
  });
});
