import { describe, expect, it } from 'vitest';
import { readTable, type TextTable } from '../../../renderer/document/records';
import { dataTableOf, guessRoles, readingOf } from '../../../renderer/panes/findings/tableReading';

function tableOf(text: string): TextTable {
  const read = readTable(text);
  if (!read.ok) throw new Error(read.problem);
  return read.table;
}

const weights = [11.2, 12.4, 9.8, 10.1, 13.3, 12.0, 9.1, 10.8, 11.9, 12.7];
const text = [
  'pot;block;medium;start;weight',
  ...weights.map(
    (w, i) =>
      `${i + 1};B${(i % 2) + 1};${i < 5 ? 'peat' : 'coir'};${String(2 + i / 10).replace('.', ',')};${i === 3 ? 'NA' : String(w).replace('.', ',')}`,
  ),
].join('\n');
const given = { title: 't', unit: 'g', alpha: 0.05, position: 'none' as const };

describe('a table from elsewhere', () => {
  const table = tableOf(text);
  const roles = guessRoles(table);

  it('is guessed at by names and cells', () => {
    expect(roles).toEqual(['pot', 'block', 'factor pot', 'start', 'response']);
  });

  it('is read with its decimal comma, NA as missing, categories as text', () => {
    const data = dataTableOf(table, roles);
    expect(data.columns['weight']?.slice(0, 4)).toEqual([11.2, 12.4, 9.8, null]);
    expect(data.columns['start']?.[3]).toBe(2.3);
    expect(data.columns['pot']?.[0]).toBe('1');
  });

  it('gives a reading, or says what is wanted', () => {
    const read = readingOf(table, roles, given);
    expect(read.ok && read.reading.factors).toEqual([
      { column: 'medium', kind: 'assigned', unit: 'pot' },
    ]);
    const none = readingOf(table, ['pot', 'block', 'factor pot', 'nothing', 'nothing'], given);
    expect(none).toEqual({ ok: false, missing: 'Say which column was measured at harvest.' });
    const both = readingOf(table, ['pot', 'shelf block', 'factor pot', 'start', 'response'], given);
    expect(both.ok && [both.reading.shelf, both.reading.block]).toEqual(['block', 'block']);
    const two = readingOf(table, ['pot', 'block', 'block', 'nothing', 'response'], given);
    expect(two).toEqual({
      ok: false,
      missing: 'block and medium are both “block”; one is expected.',
    });
  });
});
