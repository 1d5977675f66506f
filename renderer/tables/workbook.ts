import type { CellObject, WorkSheet } from '@e965/xlsx';
import type { ParsedLine } from './parse';
import type { ReadSheets, TableSheet } from './sheet';
import { isWhole, zipEntries } from './zip';

/** A workbook of one trial has some hundred kilobytes. */
const MOST_BYTES = 50_000_000;
/** What is packed into it: a text of the same signs packs a thousand to one. */
const MOST_UNPACKED = 400_000_000;
const MOST_LINES = 100_000;
const MOST_COLUMNS = 500;

const DAMAGED: ReadSheets = {
  ok: false,
  problem: 'The file is damaged: a whole workbook is expected.',
};

/** The sheets of an Office Open XML (`.xlsx`) or OpenDocument (`.ods`) workbook, in their order. */
export async function readWorkbook(bytes: Uint8Array): Promise<ReadSheets> {
  if (bytes.length > MOST_BYTES) {
    const problem = `The workbook has ${bytes.length} bytes; at most ${MOST_BYTES} are expected.`;
    return { ok: false, problem };
  }
  // The library's own unpacking never ends on some damaged files, so that each is tried before.
  const entries = zipEntries(bytes);
  const unpacked = entries?.reduce((sum, entry) => sum + entry.unpackedBytes, 0) ?? 0;
  if (unpacked > MOST_UNPACKED) {
    const problem = `The workbook unpacks to ${unpacked} bytes; at most ${MOST_UNPACKED} are expected.`;
    return { ok: false, problem };
  }
  for (const entry of entries ?? []) if (!(await isWhole(entry))) return DAMAGED;
  if (entries === null) return DAMAGED;
  const { read, SSF, utils } = await import('@e965/xlsx');
  const isDay = (cell: CellObject) =>
    cell.t === 'n' && typeof cell.z === 'string' && SSF.is_date(cell.z);
  const dayOf = (serial: number): string => {
    const { y, m, d } = SSF.parse_date_code(serial);
    return [y, String(m).padStart(2, '0'), String(d).padStart(2, '0')].join('-');
  };
  const textOf = (cell: CellObject | undefined): string => {
    if (cell?.v === undefined) return '';
    if (cell.t === 'n' && typeof cell.v === 'number')
      return isDay(cell) ? dayOf(cell.v) : String(cell.v);
    return cell.t === 'e' ? (cell.w ?? '#') : String(cell.v).trim();
  };
  const sheetOf = (name: string, sheet: WorkSheet): TableSheet => {
    const { s, e } = utils.decode_range(sheet['!ref'] ?? 'A1');
    const cellAt = (row: number, column: number): CellObject | undefined =>
      sheet['!data']?.[row]?.[column];
    const rows = Array.from({ length: e.r + 1 }, (_, r) =>
      Array.from({ length: Math.min(e.c + 1, MOST_COLUMNS) }, (_c, c) =>
        r < s.r || c < s.c ? '' : textOf(cellAt(r, c)),
      ),
    );
    const merged = rows.map(() => new Set<number>());
    for (const { s: from, e: to } of sheet['!merges'] ?? []) {
      const text = rows[from.r]?.[from.c] ?? '';
      if (text === '') continue;
      const severalLines = to.r > from.r;
      for (let r = from.r; r <= Math.min(to.r, rows.length - 1); r++) {
        const row = rows[r];
        for (let c = from.c; row && c <= Math.min(to.c, row.length - 1); c++) {
          row[c] = text;
          if (severalLines || c > from.c) merged[r]?.add(c);
        }
      }
    }
    const lines = rows.flatMap((cells, r): ParsedLine[] => {
      if (cells.every((text) => text === '')) return [];
      const exact = cells.flatMap((_text, c) => {
        const cell = cellAt(r, c);
        return cell?.t === 'n' && !isDay(cell) ? [c] : [];
      });
      const shared = [...(merged[r] ?? [])];
      return [{ line: r + 1, cells, exact, ...(shared.length > 0 ? { merged: shared } : {}) }];
    });
    return { name, lines, cutLine: null };
  };
  let book;
  try {
    book = read(bytes, {
      ...{ type: 'array', dense: true, cellNF: true, cellHTML: false, cellFormula: false },
      sheetRows: MOST_LINES + 1,
    });
  } catch (error) {
    // The library throws plain errors on a file that it cannot read.
    if (!(error instanceof Error)) throw error;
    return { ok: false, problem: `The workbook cannot be read (${error.message}).` };
  }
  const sheets = book.SheetNames.flatMap((name) => {
    const sheet = book.Sheets[name];
    return sheet ? [sheetOf(name, sheet)] : [];
  });
  const long = sheets.find(({ lines }) => (lines.at(-1)?.line ?? 0) > MOST_LINES);
  if (long) {
    const problem = `The sheet ${long.name} has more than ${MOST_LINES} lines; a table of one trial is expected.`;
    return { ok: false, problem };
  }
  return { ok: true, sheets };
}
