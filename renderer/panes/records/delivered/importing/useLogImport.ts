import { useMemo, useState } from 'react';
import type { Plan } from '../../../../../shared-types/plan';
import { matchLog, type LogSaid, type LogUse } from '../../../../document/delivered';
import { tableFormat, type TableFile } from '../../importing/tableFormat';
import { useTableSheet } from '../../importing/useTableSheet';
import { logSummary } from './logSummary';

/** How a logger's table is read, and what taking it over would log; all of it follows what is chosen. */
export function useLogImport(plan: Plan, file: TableFile) {
  const [said, setSaid] = useState<LogSaid>({});
  const { sheet, choices, problem } = useTableSheet(
    file,
    (one) => (matchLog(plan, one)?.figures.length ?? 0) > 0,
  );
  const preview = useMemo(() => (sheet ? matchLog(plan, sheet, said) : null), [plan, sheet, said]);
  const summary = useMemo(() => preview && logSummary(plan, preview), [plan, preview]);
  const format = tableFormat({
    file,
    ...choices,
    said,
    say: (more) => setSaid({ ...said, ...more }),
    anew: setSaid,
    foundDecimal: preview?.shape.decimal ?? null,
    headLine: preview?.shape.headLines[0] ?? null,
    openDays: preview?.shape.openDays ?? false,
  });
  return {
    format,
    said,
    useColumn: (at: number, use: LogUse) => setSaid({ ...said, uses: { ...said.uses, [at]: use } }),
    /** null: what is of it is not used. */
    useUnit: (name: string, unitId: string | null) =>
      setSaid({ ...said, units: { ...said.units, [name]: unitId } }),
    found: preview && summary ? { preview, summary } : null,
    problem,
  };
}

export type LogImport = ReturnType<typeof useLogImport>;
