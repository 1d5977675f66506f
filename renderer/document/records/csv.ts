import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import { writeDelimited } from '../../tables';
import type { TableStyle } from '../../tables';
import { measurementLabel } from '../queries/names';
import { potsToMeasure, measurementsInOrder } from '../queries/records';
import { distinctNames, potCells, potColumnsOf } from './potColumns';

/** The columns of the wide table, in order. */
export function wideColumnNames(plan: Plan): string[] {
  return distinctNames([
    ...potColumnsOf(plan).map(({ name }) => name),
    ...measurementsInOrder(plan).map(measurementColumn),
    'mark',
    ...(plan.records.secondMarks ? ['second mark'] : []),
  ]);
}

export function measurementColumn(m: Measurement): string {
  return m.unit ? `${measurementLabel(m)} (${m.unit})` : measurementLabel(m);
}

/**
 * All records as a table, one row a measured pot: pot, shelf, tray, row, column, block, one column
 * for every factor, plant, one for every measurement (with its unit), mark and, where there are any,
 * the marks of the second entry. Values keep all the digits they were entered with. `readTable` and
 * `matchTable` take it in again.
 */
export function recordsCsv(plan: Plan, style: TableStyle = {}): string {
  const measurements = measurementsInOrder(plan);
  const { values, marks, secondMarks } = plan.records;
  const cellsOf = potCells(plan);
  const rows = potsToMeasure(plan).map((pot) => [
    ...cellsOf(pot),
    ...measurements.map((m) => values[m.id]?.[pot.id] ?? null),
    marks[pot.id]?.mark ?? '',
    ...(secondMarks ? [secondMarks[pot.id]?.mark ?? ''] : []),
  ]);
  return writeDelimited([wideColumnNames(plan), ...rows], style);
}
