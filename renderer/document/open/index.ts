export { findInconsistency } from './consistency';
export { sayProblem } from './problem';
export type { OpenProblem } from './problem';
export { readPlan } from './readPlan';
export type { ReadPlan } from './readPlan';
export { compactWriter, writeCompact, writePlan } from './writePlan';
