export { columnsCsv, tablesCsv } from './csv';
export * from './figures';
export { dataTable } from './dataTable';
export { reportFigures, reportHtml, type ReportInput } from './report';
export {
  comparisonTable,
  contrastTable,
  effectsTable,
  findingsTables,
  mainComparisons,
  meansTable,
  METHOD_WORDS,
  potsTable,
  positionTable,
  sensitivityTable,
  termsTable,
  varianceTable,
  type Comparison,
  type FindingsTable,
} from './tables';
