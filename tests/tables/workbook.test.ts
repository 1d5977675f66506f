import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readWorkbook, zipOf } from '../../renderer/tables';
import { isWorkbook } from '../../renderer/tables/encoding';
import { isExcessive } from '../../renderer/tables/workbookSheet';
import { zipEntries } from '../../renderer/tables/zip';

/** Made by openpyxl and odfpy: tests/reference/make/32-workbooks.py. */
const bytesOf = (name: string) =>
  new Uint8Array(readFileSync(new URL(`workbooks/${name}`, import.meta.url)));

async function sheetsOf(name: string) {
  const read = await readWorkbook(bytesOf(name));
  if (!read.ok) throw new Error(read.problem);
  return read.sheets;
}

describe('a workbook', () => {
  it('of Office Open XML gives its sheets with days, merged cells and numbers as they are', async () => {
    const [harvest, rack] = await sheetsOf('harvest.xlsx');
    expect([harvest?.name, rack?.name]).toEqual(['Harvest', 'Fresh weight at harvest']);
    expect(harvest?.lines.map(({ line, cells }) => [line, ...cells])).toEqual([
      [1, ...Array<string>(4).fill('Bench 3, weighed by KM')],
      [3, 'Pot', 'Fresh weight', 'Fresh weight', 'Date'],
      [4, 'Pot', 'start', 'harvest', ''],
      [5, '1A-A1', '2.1', '12.5', '2026-03-31'],
      [6, '1A-A2', '2.2', '13,25 g', '2026-03-31'],
      [7, '1A-A3', '2.3', '14', '2026-04-01'],
      [8, '1A-B1', '', '14', ''],
      // A formula that no program has computed has no value.
      [9, 'Mean', '2.2', '', ''],
    ]);
    expect(harvest?.lines.slice(-3).map(({ merged }) => merged)).toEqual([[2], [2], undefined]);
    expect(rack?.lines.at(-1)?.cells).toEqual(['A', '3.1', 'dead', '3.3']);
  });

  it('of OpenDocument gives the same', async () => {
    const [sheet] = await sheetsOf('ernte.ods');
    expect(sheet?.lines.map(({ cells }) => cells)).toEqual([
      ['Ernte', 'Ernte', 'Ernte'],
      ['Topf', 'Datum', 'Fresh weight (kg)'],
      ['1A-A1', '2026-03-31', '0.0125'],
      ['1A-A2', '2026-03-31', '0,01325'],
    ]);
  });

  it('that is cut off, or another archive, is refused in a sentence', async () => {
    const whole = bytesOf('harvest.xlsx');
    expect(isWorkbook(whole)).toBe(true);
    const cut = await readWorkbook(whole.slice(0, whole.length / 2));
    expect(cut).toEqual({
      ok: false,
      problem: 'The file is damaged: a whole workbook is expected.',
    });
    // An empty archive: the end record alone.
    const empty = new Uint8Array(22);
    empty.set([0x50, 0x4b, 5, 6]);
    expect((await readWorkbook(empty)).ok).toBe(false);
    for (let at = 0; at < whole.length; at += 97) {
      const broken = whole.slice();
      broken[at] = (broken[at] ?? 0) ^ 0xff;
      const read = await readWorkbook(broken);
      if (!read.ok) expect(read.problem).toMatch(/^The .*\.$/);
    }
  });

  it('that would unpack to more than the memory holds is refused', async () => {
    const bomb = bytesOf('harvest.xlsx');
    const end = bomb.length - 22;
    const view = new DataView(bomb.buffer);
    view.setUint32(view.getUint32(end + 16, true) + 24, 4_000_000_000, true);
    expect(zipEntries(bomb)?.[0]?.unpackedBytes).toBe(4_000_000_000);
    expect(await readWorkbook(bomb)).toMatchObject({
      problem: expect.stringMatching(/^The workbook unpacks to/),
    });
  });

  it('whose few bytes stand for more cells than a trial has is refused before they are made', async () => {
    const noon = { year: 2026, month: 3, day: 5, hour: 12, minute: 0 };
    const ods = (rows: string) =>
      zipOf(
        new Map([
          ['META-INF/manifest.xml', '<manifest:manifest/>'],
          ['styles.xml', '<office:document-styles/>'],
          [
            'content.xml',
            `<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet><table:table table:name="S">${rows}</table:table></office:spreadsheet></office:body></office:document-content>`,
          ],
        ]),
        noon,
      );
    const row = (times: number, cells: string) =>
      `<table:table-row table:number-rows-repeated="${times}">${cells}</table:table-row>`;
    const cell = (times: number) =>
      `<table:table-cell office:value-type="string" table:number-columns-repeated="${times}"><text:p>1</text:p></table:table-cell>`;
    const refused = { problem: expect.stringMatching(/^The workbook has more than 8000000 cells/) };
    expect(await readWorkbook(await ods(row(1_000_000, cell(16_000))))).toMatchObject(refused);
    // Every program ends a sheet with as many empty ones.
    const empty = row(1_048_000, '<table:table-cell table:number-columns-repeated="16384"/>');
    const head = row(1, cell(1).repeat(3));
    const read = await readWorkbook(await ods(`${head}${row(2, cell(3))}${empty}`));
    expect(read.ok && read.sheets[0]?.lines.map(({ cells }) => cells)).toEqual([
      ['1', '1', '1'],
      ['1', '1', '1'],
      ['1', '1', '1'],
    ]);
    const merged = { '!merges': [{ s: { r: 0, c: 0 }, e: { r: 99_998, c: 499 } }] };
    const tall = { s: { r: 0, c: 0 }, e: { r: 99_998, c: 1 } };
    expect(isExcessive(merged, tall)).toBe(true);
    expect(isExcessive({}, tall)).toBe(false);
  });
});
