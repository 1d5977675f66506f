import { useMemo, useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { unitsAskedBy } from '../../../derive/records/recordNotices';
import { matchTable, type ColumnUse } from '../../../document/records';
import { readTable, type DecimalMark, type Separator } from '../../../tables';
import { importSummary } from './importSummary';

/** How a table is read, and what taking it over would do; all of it follows what is chosen. */
export function useImport(plan: Plan, text: string) {
  const [uses, setUses] = useState<Record<number, ColumnUse>>({});
  const [withOdd, setWithOdd] = useState(false);
  const [second, setSecond] = useState(false);
  const [separator, setSeparator] = useState<Separator | 'auto'>('auto');
  const [decimal, setDecimal] = useState<DecimalMark | 'auto'>('auto');
  const read = useMemo(() => readTable(text, { separator, decimal }), [text, separator, decimal]);
  const preview = useMemo(
    () => (read.ok ? matchTable(plan, read.table, uses) : null),
    [plan, read, uses],
  );
  const summary = useMemo(
    () => preview && importSummary(plan, preview, { withOdd, second }),
    [plan, preview, withOdd, second],
  );
  const asked = useMemo(
    () => (summary && !second ? unitsAskedBy(plan, summary.taking.values) : []),
    [plan, summary, second],
  );
  const format = {
    separator,
    decimal,
    foundSeparator: read.ok ? read.table.separator : null,
    foundDecimal: preview?.decimal ?? null,
    setDecimal,
    /** Other columns: what was said of the former ones no longer holds. */
    setSeparator: (chosen: Separator | 'auto') => {
      setSeparator(chosen);
      setUses({});
    },
  };
  const useColumn = (at: number, use: ColumnUse) => setUses({ ...uses, [at]: use });
  return {
    format,
    second,
    setSecond,
    withOdd,
    setWithOdd,
    useColumn,
    /** Questions about units that the values raise. */
    asked,
    found: read.ok
      ? preview && summary && { lines: read.table.rows.length, preview, summary }
      : null,
    problem: read.ok ? null : read.problem,
  };
}

export type ImportState = ReturnType<typeof useImport>;
export type FoundTable = NonNullable<ImportState['found']>;
