import type { Plan } from '../../../../shared-types/plan';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import { writeDelimited } from '../../../tables';
import type { CellOut, TableStyle } from '../../../tables';
import { measurementHead } from '../../queries/names';
import { potsToMeasure, measurementsInOrder } from '../../queries/records';
import { distinctNames, potCells, potColumnsOf } from './potColumns';

/** The columns of the wide table, in order. */
export function wideColumnNames(plan: Plan, runs: readonly Plan[] = [plan]): string[] {
  return distinctNames([
    ...potColumnsOf(plan).map(({ name }) => name),
    ...measurementsInOrder(plan).map(measurementColumn),
    'mark',
    ...(runs.some(hasSecondMarks) ? ['second mark'] : []),
  ]);
}

export function measurementColumn(m: Measurement): string {
  return m.unit ? `${measurementHead(m)} (${m.unit})` : measurementHead(m);
}

/**
 * All records as a table, one row a measured pot: pot, shelf, tray, row, column, block, one column
 * for every factor, plant, one for every measurement (with its unit), mark and, where there are any,
 * the marks of the second entry. `runs`: the plan seen from each run whose lines are wanted; the
 * column `run` tells them apart. Values keep all the digits they were entered with. `readTable` and
 * `matchTable` take it in again.
 */
export function recordsCsv(
  plan: Plan,
  style: TableStyle = {},
  runs: readonly Plan[] = [plan],
): string {
  const twice = runs.some(hasSecondMarks);
  const rows = runs.flatMap((seen) => linesOf(seen, twice));
  return writeDelimited([wideColumnNames(plan, runs), ...rows], style);
}

const hasSecondMarks = ({ records }: Plan): boolean => records.secondMarks !== undefined;

function linesOf(plan: Plan, withSecondMarks: boolean): CellOut[][] {
  const measurements = measurementsInOrder(plan);
  const { values, marks, secondMarks = {} } = plan.records;
  const cellsOf = potCells(plan);
  return potsToMeasure(plan).map((pot) => [
    ...cellsOf(pot),
    ...measurements.map((m) => values[m.id]?.[pot.id] ?? null),
    marks[pot.id]?.mark ?? '',
    ...(withSecondMarks ? [secondMarks[pot.id]?.mark ?? ''] : []),
  ]);
}
