import { z } from 'zod';
import type { Said } from '../../renderer/document/records';
import { readWorkbook, sheetOfText, type TableSheet } from '../../renderer/tables';
import { isWorkbook } from '../../renderer/tables/encoding';
import { list } from '../../renderer/words';
import { decode, readBytes } from '../services/files/readText';
import { BatchError } from './batchError';
import { checked, parseJson, unreadable } from './inputs';
import type { VerbArguments } from './verb';

const TABLE = 'a table in CSV or a workbook (.xlsx, .ods) is expected';
const headsSchema = z.record(z.string(), z.string());

/** The sheets of a table in a file, text or workbook. */
export async function sheetsIn(path: string): Promise<TableSheet[]> {
  const bytes = await bytesOf(path);
  const read = isWorkbook(bytes)
    ? await readWorkbook(bytes)
    : sheetOfText(decode(path, bytes, true));
  if (!read.ok) throw new BatchError(path, read.problem.replace(/\.$/, ''), TABLE);
  return read.sheets;
}

async function bytesOf(path: string): Promise<Uint8Array> {
  try {
    return await readBytes(path);
  } catch (error) {
    throw unreadable(path, error, TABLE);
  }
}

/** The sheet that was asked for, or the only one with something to take over. */
export function theSheet<Matched>(
  path: string,
  sheets: readonly TableSheet[],
  name: string | undefined,
  of: {
    match: (sheet: TableSheet) => Matched | null;
    isUseful: (matched: Matched) => boolean;
    /** What useful sheets hold. */
    holds: string;
  },
): { sheet: TableSheet; matched: Matched } {
  const named = name === undefined ? sheets : sheets.filter((sheet) => sheet.name === name);
  const names = list(sheets.map((sheet) => sheet.name));
  if (named.length === 0)
    throw new BatchError('--sheet', `found ${name}`, `expected one of ${names}`);
  const filled = named.flatMap((sheet) => {
    const matched = of.match(sheet);
    return matched ? [{ sheet, matched }] : [];
  });
  const useful = filled.filter(({ matched }) => of.isUseful(matched));
  const [only = filled[0], ...others] = useful;
  if (!only) throw new BatchError(path, 'no line holds anything', 'a table is expected');
  if (others.length > 0) {
    const told = list(useful.map(({ sheet }) => sheet.name));
    throw new BatchError(path, `the sheets ${told} hold ${of.holds}`, '--sheet is expected');
  }
  return only;
}

/** What the options say of how a table is read. */
export function saidIn(args: VerbArguments): Said {
  const columns = args.optional('columns');
  const header = args.optional('header');
  const dates = args.optional('dates');
  if (header !== undefined && !/^[1-9]\d{0,6}$/.test(header)) {
    throw new BatchError('--header', `found ${header}`, 'expected the number of a line');
  }
  if (dates !== undefined && dates !== 'day-first' && dates !== 'month-first') {
    throw new BatchError('--dates', `found ${dates}`, 'expected day-first or month-first');
  }
  return {
    ...(columns === undefined
      ? {}
      : { heads: checked('--columns', parseJson('--columns', columns), headsSchema) }),
    ...(header === undefined ? {} : { headLine: Number(header) }),
    ...(dates === undefined ? {} : { dayOrder: dates }),
  };
}
