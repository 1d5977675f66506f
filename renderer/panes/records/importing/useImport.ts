import { useMemo, useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { unitsAskedBy } from '../../../derive/records/recordNotices';
import { matchSheet, type ColumnUse, type Said } from '../../../document/records';
import { importSummary } from './importSummary';
import { tableFormat, type TableFile } from './tableFormat';
import { useTableSheet } from './useTableSheet';

/** How a table is read, and what taking it over would do; all of it follows what is chosen. */
export function useImport(plan: Plan, file: TableFile) {
  const [said, setSaid] = useState<Said>({});
  const [withOdd, setWithOdd] = useState(false);
  const [second, setSecond] = useState(false);
  const table = useTableSheet(file, (one) => matchSheet(plan, one)?.preview.problem === null);
  const { sheet } = table;
  const matched = useMemo(
    () => (sheet ? matchSheet(plan, sheet, said) : null),
    [plan, sheet, said],
  );
  const preview = matched?.preview ?? null;
  const summary = useMemo(
    () => preview && importSummary(plan, preview, { withOdd, second }),
    [plan, preview, withOdd, second],
  );
  const asked = useMemo(
    () => (summary && !second ? unitsAskedBy(plan, summary.taking.values) : []),
    [plan, summary, second],
  );
  const format = tableFormat({
    file,
    ...table.choices,
    said,
    say: (more) => setSaid({ ...said, ...more }),
    anew: setSaid,
    foundDecimal: preview?.decimal ?? null,
    headLine: matched?.shape?.headLines[0] ?? null,
    openDays: (matched?.shape?.openDays.length ?? 0) > 0,
  });
  const useColumn = (at: number, use: ColumnUse) =>
    setSaid({ ...said, uses: { ...said.uses, [at]: use } });
  return {
    format,
    second,
    setSecond,
    withOdd,
    setWithOdd,
    useColumn,
    /** Questions about units that the values raise. */
    asked,
    found:
      matched && preview && summary
        ? { lines: linesBelow(matched.shape, preview), preview, summary, matched }
        : null,
    problem: table.problem,
  };
}

/** Lines that hold values: below the header, or of the trays. */
function linesBelow(
  shape: { table: { rows: readonly unknown[] } } | null,
  { cells }: { cells: readonly { line: number }[] },
): number {
  return shape ? shape.table.rows.length : new Set(cells.map(({ line }) => line)).size;
}

export type ImportState = ReturnType<typeof useImport>;
export type FoundTable = NonNullable<ImportState['found']>;
