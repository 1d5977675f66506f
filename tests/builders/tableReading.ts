import type { TableReading } from '../../renderer/engine/findings';

/** How a table is read of which nothing is said but what a test gives. */
export const tableReading = (more: Partial<TableReading> = {}): TableReading => ({
  title: 'table',
  response: '',
  unit: '',
  factors: [],
  alpha: 0.05,
  position: 'none',
  block: null,
  shelf: null,
  tray: null,
  row: null,
  column: null,
  start: null,
  light: null,
  pot: null,
  ...more,
});
