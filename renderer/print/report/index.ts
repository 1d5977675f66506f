export { copiedTable, type CopiedTable } from './copied';
export { tablesCsv } from './csv';
export * from './figures';
export { dataTable } from './dataTable';
export { reportFigures, reportHtml, type ReportInput } from './report';
export { reportFiles, type ReportFile } from './files';
export {
  comparisonTable,
  contrastTable,
  effectSizeTable,
  adjustmentWords,
  type Comparison,
} from './comparisonTables';
export { findingsTables, meansTable, potsTable } from './tables';
export { plantsTable } from './plantsTable';
export { growthTable } from './sections/growth';
export { otherWarnings, slopesTable, termsTable, varianceTable } from './modelTables';
export type { FindingsTable, ReportCell } from './cells';
export { matrixWords, positionMatrix } from './positionMatrix';
export { effectsTable, positionTable, sensitivityTable } from './positionTables';
