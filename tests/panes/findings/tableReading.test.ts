import { describe, expect, it } from 'vitest';
import {
  dataTableBy,
  guessRoles,
  guessUnit,
  readingOf,
  widerUnits,
} from '../../../renderer/panes/findings/ownTable/tableReading';
import { readTable, type TextTable } from '../../../renderer/tables';

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
    const data = dataTableBy(table, roles);
    expect(data.columns['weight']?.slice(0, 4)).toEqual([11.2, 12.4, 9.8, null]);
    expect(data.columns['start']?.[3]).toBe(2.3);
    expect(data.columns['pot']?.[0]).toBe('1');
  });

  it('gives a reading, or says what is wanted', () => {
    const read = readingOf(table, roles, given);
    expect(read.ok && read.reading.factors).toEqual([
      { column: 'medium', kind: 'randomised', unit: 'pot' },
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

describe('what a factor was laid on', () => {
  const rows = (feedOf: (shelf: number, tray: number, pot: number) => string) =>
    [0, 1, 2, 3].flatMap((shelf) =>
      [0, 1].flatMap((tray) =>
        [0, 1, 2].map(
          (pot) =>
            `${shelf + 1},${'AB'.charAt(tray)},${feedOf(shelf, tray, pot)},${10 + shelf + tray / 2 + pot / 7}`,
        ),
      ),
    );
  const table = (feedOf: (shelf: number, tray: number, pot: number) => string) =>
    tableOf(['shelf,tray,feed,weight', ...rows(feedOf)].join('\n'));
  const bySide = (n: number) => (n % 2 === 0 ? 'weak' : 'strong');

  it('is the widest unit within which it never varies', () => {
    expect(guessRoles(table((shelf) => bySide(shelf)))[2]).toBe('factor shelf');
    // Trays A and B of every shelf are eight trays, not two.
    expect(guessRoles(table((shelf, tray) => bySide(shelf + tray)))[2]).toBe('factor tray');
    expect(guessRoles(table((_shelf, _tray, pot) => bySide(pot)))[2]).toBe('factor pot');
  });

  it('is told where a smaller one was chosen, and not where it varies within one unit', () => {
    const whole = table((shelf, tray) => bySide(shelf + tray));
    const chosen = ['shelf', 'tray', 'factor pot', 'response'] as const;
    expect(widerUnits(whole, chosen)).toEqual([
      '“feed” never varies within a tray. Judged by smaller units, chance can look like a result: take it as treatment of whole trays.',
    ]);
    expect(widerUnits(whole, ['shelf', 'tray', 'factor tray', 'response'])).toEqual([]);
    const broken = table((shelf, tray, pot) =>
      shelf + tray + pot === 0 ? 'strong' : bySide(shelf + tray),
    );
    expect(widerUnits(broken, chosen)).toEqual([]);
  });
});

describe('the unit of what was measured', () => {
  const unitOf = (head: string, values: readonly (string | number)[]) =>
    guessUnit(tableOf([`feed,${head}`, ...values.map((v, i) => `f${i % 2},${v}`)].join('\n')), [
      'factor pot',
      'response',
    ]);
  it('stands in brackets, or is none for counts', () => {
    expect(unitOf('height (mm)', [31.5, 28])).toBe('mm');
    expect(unitOf('leaves', [12, 14, 'NA'])).toBe('');
    expect(unitOf('weight', [12, 14.5])).toBe('g');
  });
});
