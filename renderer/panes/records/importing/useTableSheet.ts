import { useMemo, useState } from 'react';
import { EMPTY_TABLE, sheetOfText, type Separator, type TableSheet } from '../../../tables';
import type { TableFile } from './tableFormat';

/** The sheets of a file as its separator is said, and the one that is chosen. */
export function useTableSheet(file: TableFile, holds: (sheet: TableSheet) => boolean) {
  const [sheetName, setSheetName] = useState<string | null>(null);
  const [separator, setSeparator] = useState<Separator | 'auto'>('auto');
  const read = useMemo(
    () => ('book' in file ? file.book : sheetOfText(file.text, separator)),
    [file, separator],
  );
  const sheets = read.ok ? read.sheets : [];
  const sheet = useMemo(
    () => sheets.find(({ name }) => name === sheetName) ?? sheets.find(holds) ?? sheets[0],
    // The first sheet that holds something of the plan stays chosen while it is taken over.
    // oxlint-disable-next-line react/exhaustive-deps
    [read, sheetName],
  );
  return {
    sheet,
    choices: { separator, setSeparator, sheets, sheet, setSheetName },
    problem: read.ok ? EMPTY_TABLE : read.problem,
  };
}
