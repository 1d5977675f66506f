import { fitRequestSchema } from '../../../shared-types/fit';
import { unguardText } from '../../../renderer/document/delimited';
import { fit } from '../../../renderer/engine/stats/fit';
import { categoryColumns, tableFromCsvRows } from '../../../renderer/engine/stats/table';
import { readCsvRows, readJson } from '../inputs';
import type { Verb } from '../verb';

export const fitVerb: Verb = {
  name: 'fit',
  gives: 'The analysis that REQUEST asks for, of any table in long form, one row a pot.',
  takes: ['REQUEST'],
  options: { table: { value: 'DATA.csv', needed: true, reads: true } },
  async run(args) {
    const table = args.needed('table');
    const request = await readJson(args.positional('REQUEST'), fitRequestSchema, 'a fit request');
    const rows = await readCsvRows(table);
    return fit(request, tableFromCsvRows(rows, categoryColumns(request), unguardText));
  },
};
