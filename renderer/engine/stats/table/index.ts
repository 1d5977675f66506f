export { readCategory, readNumbers, sortLevels } from './columns';
export type { Category, Cell } from './columns';
export { categoryColumns, tableFromCsvRows } from './csv';
export { readTrialData } from './data';
export type { TrialData } from './data';
export { scaleRules } from './scale';
export type { Scale } from './scale';
