import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readWorkbook } from '../../renderer/tables';
import { isWorkbook } from '../../renderer/tables/encoding';
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
});
