import type { ParsingOptions } from '@e965/xlsx';
import type { ReadSheets } from './sheet';
import { isExcessive, MOST_CELLS, sheetOf } from './workbookSheet';
import { odsCells } from './odsCells';
import { isWhole, textOf, zipEntries } from './zip';

/** A workbook of one trial has some hundred kilobytes. */
const MOST_BYTES = 50_000_000;
/** What is packed into it: a text of the same signs packs a thousand to one. */
const MOST_UNPACKED = 400_000_000;
const MOST_LINES = 100_000;

const OPTIONS: ParsingOptions = {
  type: 'array',
  dense: true,
  cellNF: true,
  cellHTML: false,
  cellFormula: false,
  sheetRows: MOST_LINES + 1,
};

const refused = (problem: string): ReadSheets => ({ ok: false, problem });

/** The sheets of an Office Open XML (`.xlsx`) or OpenDocument (`.ods`) workbook, in their order. */
export async function readWorkbook(bytes: Uint8Array): Promise<ReadSheets> {
  const unsound = await problemOf(bytes);
  if (unsound !== null) return refused(unsound);
  const { read, SSF, utils } = await import('@e965/xlsx');
  let book;
  try {
    book = read(bytes, OPTIONS);
  } catch (error) {
    // The library throws plain errors on a file that it cannot read.
    if (!(error instanceof Error)) throw error;
    return refused(`The workbook cannot be read (${error.message}).`);
  }
  const found = book.SheetNames.flatMap((name) => {
    const sheet = book.Sheets[name];
    return sheet ? [{ name, sheet, range: utils.decode_range(sheet['!ref'] ?? 'A1') }] : [];
  });
  if (found.some(({ sheet, range }) => isExcessive(sheet, range))) return refused(EXCESSIVE);
  const sheets = found.map(({ name, sheet, range }) => sheetOf(name, sheet, range, SSF));
  const long = sheets.find(({ lines }) => (lines.at(-1)?.line ?? 0) > MOST_LINES);
  return long
    ? refused(
        `The sheet ${long.name} has more than ${MOST_LINES} lines; a table of one trial is expected.`,
      )
    : { ok: true, sheets };
}

/** What is wrong with the archive: the library never ends on some damaged ones. */
async function problemOf(bytes: Uint8Array): Promise<string | null> {
  if (bytes.length > MOST_BYTES)
    return `The workbook has ${bytes.length} bytes; at most ${MOST_BYTES} are expected.`;
  const entries = zipEntries(bytes);
  const unpacked = entries?.reduce((sum, entry) => sum + entry.unpackedBytes, 0) ?? 0;
  if (unpacked > MOST_UNPACKED)
    return `The workbook unpacks to ${unpacked} bytes; at most ${MOST_UNPACKED} are expected.`;
  for (const entry of entries ?? []) if (!(await isWhole(entry))) return DAMAGED;
  if (entries === null) return DAMAGED;
  // The library would read these too; nobody has asked for them, and nothing bounds them.
  if (entries.some(({ name }) => /\.iwa$|objectdata\.xml$/i.test(name))) return OTHER;
  for (const entry of entries.filter(({ name }) => /content\.xml$/i.test(name))) {
    if (odsCells(await textOf(entry)) > MOST_CELLS) return EXCESSIVE;
  }
  return null;
}

const EXCESSIVE = `The workbook has more than ${MOST_CELLS} cells; a table of one trial is expected.`;
const OTHER = 'The file is no workbook of the kinds .xlsx and .ods.';
const DAMAGED = 'The file is damaged: a whole workbook is expected.';
