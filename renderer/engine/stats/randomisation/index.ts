export type { Allocation, DrawnLevels } from './allocation';
export { alikeDraws } from './allocation';
export { cleanBlock, orthogonalised, projectionOf } from './blocks';
export type { BlockProjection, Cleaned, Parted } from './blocks';
export { combine, constrained, jointF } from './cellFit';
export { sharing } from './covariance';
export type { CovarianceBlock, KnownCovariance } from './covariance';
export type { CellFit } from './cellFit';
export { cellFits, untreatedProjection } from './cells';
export { countFits } from './countCells';
export type { CellFits, CellResponse, SolvedByBlocks } from './cells';
export {
  countArrangements,
  drawAll,
  drawRandom,
  keptNumbers,
  leastAsExtreme,
  MOST_ARRANGEMENTS,
} from './draws';
export type { LayoutCount } from './draws';
export { glsStatistic } from './gls/gls';
export { glsEstimates } from './gls/means';
export { normalLogLik } from './gls/whitened';
export { holdOthers } from './hold';
export { layoutsOf } from './layouts';
export type { Layouts } from './layouts';
export { planRandomisation } from './plan';
export type { RandomisationPlan } from './plan';
export { isRarer, referenceOf } from './reference';
export type { Reference } from './reference';
export { randomisationStatistic } from './statistic';
export type { RandomisationStatistic } from './types';
