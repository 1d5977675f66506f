import Papa from 'papaparse';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import { measurementLabel } from '../queries/names';
import { measuredPots, measurementsInOrder } from '../queries/records';
import { guardText } from './formulaGuard';
import { BYTE_ORDER_MARK, distinct, numberCell, potCells, potColumnNames } from './potColumns';
import type { TableStyle } from './potColumns';

/** The columns of the wide table, in order. */
export function wideColumnNames(plan: Plan): string[] {
  return distinct([
    ...potColumnNames(plan),
    ...measurementsInOrder(plan).map(measurementColumn),
    'mark',
  ]);
}

function measurementColumn(m: Measurement): string {
  return m.unit ? `${measurementLabel(m)} (${m.unit})` : measurementLabel(m);
}

/**
 * All records as a table, one row a measured pot: pot, shelf, tray, row, column, block, one column
 * for every factor, plant, one for every measurement (with its unit), mark. Values keep all the
 * digits they were entered with. `readTable` and `matchTable` take it in again.
 *
 * Text that a spreadsheet would run as a formula is disarmed by the rule in formulaGuard.ts.
 * Lines end as RFC 4180 has it.
 */
export function recordsCsv(plan: Plan, style: TableStyle = {}): string {
  const { decimal = '.' } = style;
  const measurements = measurementsInOrder(plan);
  const { values, marks } = plan.records;
  const cellsOf = potCells(plan);
  const rows = measuredPots(plan).map((pot) => [
    ...cellsOf(pot),
    ...measurements.map((m) => numberCell(values[m.id]?.[pot.id], decimal)),
    marks[pot.id]?.mark ?? '',
  ]);
  return writeTable(wideColumnNames(plan), rows, style);
}

/** Header and rows as text; rows come in disarmed already. */
export function writeTable(
  header: readonly string[],
  rows: readonly string[][],
  { separator = ',', byteOrderMark = false }: TableStyle,
): string {
  const text = Papa.unparse([header.map(guardText), ...rows], { delimiter: separator });
  return `${byteOrderMark ? BYTE_ORDER_MARK : ''}${text}\r\n`;
}
