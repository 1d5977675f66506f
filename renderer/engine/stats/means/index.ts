export { adjustedMeans, estimableMeans, noErrorWarning } from './adjusted';
export type { MeansTable } from './adjusted';
export { gridMeans } from './grid';
export type { GridMean } from './grid';
