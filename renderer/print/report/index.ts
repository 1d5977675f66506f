export { columnsCsv, tablesCsv } from './csv';
export * from './figures';
export { dataTable } from './dataTable';
export { reportFigures, reportHtml, type ReportInput } from './report';
export {
  comparisonTable,
  contrastTable,
  findingsTables,
  mainComparisons,
  meansTable,
  METHOD_WORDS,
  potsTable,
  termsTable,
  varianceTable,
  type Comparison,
} from './tables';
export type { FindingsTable } from './cells';
export { effectsTable, positionTable, sensitivityTable } from './positionTables';
