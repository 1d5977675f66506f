import { z } from 'zod';
import { importValues } from '../../../renderer/document/commands';
import { unitsAskedBy } from '../../../renderer/derive/records/recordNotices';
import { withTrail } from '../../../renderer/document/edits/trail';
import { writePlan } from '../../../renderer/document/open';
import {
  keptHeads,
  leftOutOf,
  matchSheet,
  toValues,
  type TableQuestion,
  type Said,
  type SheetPreview,
} from '../../../renderer/document/records';
import { readWorkbook, sheetOfText, type TableSheet } from '../../../renderer/tables';
import { isWorkbook } from '../../../renderer/tables/encoding';
import { list } from '../../../renderer/words';
import type { Plan } from '../../../shared-types/plan';
import { entryActSchema, type EntryAct } from '../../../shared-types/records';
import { decode, readBytes } from '../../services/files/readText';
import { isFileTrouble } from '../../services/files/fileTrouble';
import { BatchError } from '../batchError';
import { checked, parseJson, readPlanFile } from '../inputs';
import { refuseInput, writeResult } from '../output';
import { recordReport } from '../recordReport';
import { inRunAsked, runInResult, runOption } from '../runAsked';
import type { Verb, VerbArguments } from '../verb';

const headsSchema = z.record(z.string(), z.string());

export const recordVerb: Verb = {
  name: 'record',
  gives:
    'The plan with the values of a table in it (CSV, .xlsx or .ods, as growers keep them), and what ' +
    'became of each cell. COLUMNS: what heads are that name nothing in the plan, {"FW": "Fresh weight"}. ' +
    'Where a person has to be asked nothing is written, unless --accept-doubtful.',
  takes: ['PLAN'],
  options: {
    table: { value: 'FILE', needed: true, reads: true },
    sheet: { value: 'NAME', needed: false },
    columns: { value: 'JSON', needed: false },
    header: { value: 'LINE', needed: false },
    dates: { value: 'day-first|month-first', needed: false },
    'accept-doubtful': 'flag',
    by: { value: 'INITIALS', needed: false },
    out: { value: 'NEWPLAN', needed: true },
    ...runOption,
  },
  async run(args) {
    const out = args.needed('out');
    await refuseInput(`--out ${out}`, out, args.inputs);
    const plan = inRunAsked(await readPlanFile(args.positional('PLAN')), args.optional('run'));
    const path = args.needed('table');
    const { sheet, matched } = chosen(plan, path, await sheetsIn(path), args);
    const { preview } = matched;
    const taking = toValues(preview, true);
    const units = unitsAskedBy(plan, taking.values).map((text): TableQuestion => {
      const found = text.replace(/\.$/, '');
      return { about: 'units', found, expected: 'one unit for a measurement is expected' };
    });
    const asked = [...matched.questions, ...units].map(
      ({ about, found, expected }): TableQuestion => ({ about, found, expected }),
    );
    const [first] = asked;
    if (first && (preview.problem !== null || !args.flag('accept-doubtful'))) {
      const rest = asked.length > 1 ? ` (${asked.length - 1} more to be asked)` : '';
      throw new BatchError(`${path}, ${first.about}`, `${first.found}${rest}`, first.expected);
    }
    if (Object.values(taking).every((values) => values.length === 0)) {
      const [reason] = leftOutOf(preview);
      const found = reason ? `line ${reason.line}, ${reason.why}` : 'it holds no value';
      throw new BatchError(
        path,
        `nothing can be taken over: ${found}`,
        'values of the plan are expected',
      );
    }
    const taken = importValues.run(plan, { ...taking, heads: keptHeads(plan, matched) });
    const done = withTrail(plan, taken, actBy(args.optional('by')));
    const report = {
      ...runInResult(plan),
      sheet: sheet.name,
      ...recordReport(plan, matched),
      asked,
    };
    await writeResult({ option: 'out', path: out }, writePlan(done));
    return report;
  },
};

function actBy(initials: string | undefined): EntryAct {
  const act = entryActSchema.safeParse({
    at: new Date(Math.floor(Date.now() / 60_000) * 60_000).toISOString(),
    ...(initials === undefined ? {} : { by: initials }),
  });
  if (!act.success) throw new BatchError('--by', `found ${initials}`, 'expected 1 to 8 letters');
  return act.data;
}

async function sheetsIn(path: string): Promise<TableSheet[]> {
  const bytes = await bytesOf(path);
  const read = isWorkbook(bytes)
    ? await readWorkbook(bytes)
    : sheetOfText(decode(path, bytes, true));
  if (!read.ok) throw new BatchError(path, read.problem.replace(/\.$/, ''), TABLE);
  return read.sheets;
}

const TABLE = 'a table in CSV or a workbook (.xlsx, .ods) is expected';

async function bytesOf(path: string): Promise<Uint8Array> {
  try {
    return await readBytes(path);
  } catch (error) {
    if (!isFileTrouble(error)) throw error;
    throw new BatchError(path, error.message.replace(`${path}: `, ''), TABLE);
  }
}

/** The sheet that was asked for, or the only one with something to take over. */
function chosen(
  plan: Plan,
  path: string,
  sheets: readonly TableSheet[],
  args: VerbArguments,
): { sheet: TableSheet; matched: SheetPreview } {
  const said = saidIn(args);
  const name = args.optional('sheet');
  const named = name === undefined ? sheets : sheets.filter((sheet) => sheet.name === name);
  const names = list(sheets.map((sheet) => sheet.name));
  if (named.length === 0)
    throw new BatchError('--sheet', `found ${name}`, `expected one of ${names}`);
  const filled = named.flatMap((sheet) => {
    const matched = matchSheet(plan, sheet, said);
    return matched ? [{ sheet, matched }] : [];
  });
  const useful = filled.filter(({ matched }) => matched.preview.problem === null);
  const [only = filled[0], ...others] = useful;
  if (!only) throw new BatchError(path, 'no line holds anything', 'a table is expected');
  if (others.length > 0) {
    const told = list(useful.map(({ sheet }) => sheet.name));
    throw new BatchError(path, `the sheets ${told} hold values of the plan`, '--sheet is expected');
  }
  return only;
}

function saidIn(args: VerbArguments): Said {
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
