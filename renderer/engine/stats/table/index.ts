export { readCategory, readNumbers, sortLevels } from './columns';
export type { Category } from './columns';
export { categoryColumns } from './categories';
export { readTrialData } from './data';
export type { TrialData } from './data';
export { scaleRules } from './scale';
export type { FitScale } from './scale';
