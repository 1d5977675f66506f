import type { Plan } from '../../../shared-types/plan';
import { writeDelimited } from '../delimited';
import type { TableStyle } from '../delimited';
import { measuredPots, measurementsInOrder } from '../queries/records';
import { distinct, potCells, potColumnNames } from './potColumns';

/** Between the paths in one cell. No path that a file system is likely to hold has it within. */
export const FILES_BETWEEN = ' | ';

/** The columns of the long table, in order. */
export function longColumnNames(plan: Plan): string[] {
  return distinct([
    ...potColumnNames(plan),
    ...['measurement', 'moment', 'date', 'value', 'unit', 'second entry'],
    ...['mark', 'mark date', 'mark reason', 'note', 'files'],
  ]);
}

/**
 * All records in long form: one row for every measured pot and measurement, recorded or not, so
 * that every column is one variable and every row one observation.
 */
export function recordsLongCsv(plan: Plan, style: TableStyle = {}): string {
  const { values, second, marks, notes } = plan.records;
  const measurements = measurementsInOrder(plan);
  const cellsOf = potCells(plan);
  const rows = measuredPots(plan).flatMap((pot) => {
    const about = cellsOf(pot);
    const mark = marks[pot.id];
    const note = notes?.[pot.id];
    const state = [
      mark?.mark ?? '',
      mark?.date ?? '',
      mark?.reason ?? '',
      note?.text ?? '',
      note?.files.join(FILES_BETWEEN) ?? '',
    ];
    return measurements.map((m) => [
      ...about,
      m.name,
      m.moment,
      m.date ?? '',
      values[m.id]?.[pot.id] ?? null,
      m.unit,
      second[m.id]?.[pot.id] ?? null,
      ...state,
    ]);
  });
  return writeDelimited([longColumnNames(plan), ...rows], style);
}
