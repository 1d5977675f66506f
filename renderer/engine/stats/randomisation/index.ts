export type { Allocation, DrawnLevels, Layouts } from './allocation';
export { alikeDraws, layoutsOf } from './allocation';
export { cleanBlock, orthogonalised, projectionOf } from './blocks';
export type { BlockProjection, Cleaned, Parted } from './blocks';
export { combine, jointF } from './cellFit';
export type { CellFit } from './cellFit';
export { cellFits, untreatedProjection } from './cells';
export type { CellFits, CellResponse, SolvedByBlocks } from './cells';
export { constrained } from './constrained';
export {
  countArrangements,
  drawAll,
  drawRandom,
  keptNumbers,
  MOST_ARRANGEMENTS,
} from './draws';
export type { LayoutCount } from './draws';
export { glsStatistic } from './gls';
export { glsEstimates } from './glsMeans';
export { holdOthers } from './hold';
export { planRandomisation } from './plan';
export type { RandomisationPlan } from './plan';
export type { KnownCovariance } from './projection';
export { isRarer, referenceOf } from './reference';
export type { Reference } from './reference';
export { randomisationStatistic } from './statistic';
export type { RandomisationStatistic } from './types';
