import { join } from 'node:path';
import { fitRequestSchema } from '../../../shared-types/fit';
import type { FitRequest, FitResult } from '../../../shared-types/fit';
import { fit } from '../../../renderer/engine/stats/fit';
import { categoryColumns } from '../../../renderer/engine/stats/table';
import { tableFromCsvRows } from '../../../renderer/tables';
import { troubleWith } from '../../services/files/fileTrouble';
import { BatchError, isBadInput, sayError } from '../batchError';
import { readCsvRows, readJson, tablesIn } from '../inputs';
import { asJson } from '../output';
import { Text } from '../verb';
import type { Verb } from '../verb';

export const fitVerb: Verb = {
  name: 'fit',
  gives:
    'The analysis that REQUEST asks for, of any table in long form, one row a pot. Of every ' +
    'table of a folder with --tables and --out: one result a line, in the order of their names.',
  takes: ['REQUEST'],
  options: {
    table: { value: 'DATA.csv', needed: false, reads: true },
    tables: { value: 'DIR', needed: false, reads: true },
  },
  async run(args) {
    const [table, folder] = [args.optional('table'), args.optional('tables')];
    const one = '--table DATA.csv or --tables DIR is expected';
    if (table !== undefined && folder !== undefined) {
      throw new BatchError('--tables', 'given beside --table', one);
    }
    if (table === undefined && folder === undefined)
      throw new BatchError('--table', 'not given', one);
    if (folder !== undefined && args.optional('out') === undefined) {
      throw new BatchError('--out', 'not given', 'FILE for the results is expected with --tables');
    }
    const request = await readJson(args.positional('REQUEST'), fitRequestSchema, 'a fit request');
    return folder === undefined ? fitTable(request, table ?? '') : fitFolder(request, folder);
  },
};

async function fitTable(request: FitRequest, path: string): Promise<FitResult> {
  const rows = await readCsvRows(path);
  return fit(request, tableFromCsvRows(rows, categoryColumns(request)));
}

/** One line a table, whatever becomes of the others. */
async function fitFolder(request: FitRequest, folder: string): Promise<Text> {
  const names = await tablesIn(folder).catch((error: unknown) => {
    throw new BatchError(
      `--tables ${folder}`,
      troubleWith('', error).message,
      'a folder is expected',
    );
  });
  if (names.length === 0) {
    throw new BatchError(`--tables ${folder}`, 'found no *.csv in it', 'at least one is expected');
  }
  const lines: string[] = [];
  let failed = false;
  for (const table of names) {
    try {
      lines.push(`${asJson({ table, ...(await fitTable(request, join(folder, table))) })}\n`);
    } catch (error) {
      failed = true;
      const fault = isBadInput(error) ? '' : 'Evenrack is at fault, not the table: ';
      lines.push(`${asJson({ table, error: fault + sayError(error) })}\n`);
    }
  }
  return new Text(lines.join(''), failed ? 1 : 0);
}
