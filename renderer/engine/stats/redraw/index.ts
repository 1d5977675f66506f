export { countArrangements, drawAll, drawRandom, MOST_ARRANGEMENTS } from './draws';
export type { RedrawCount } from './draws';
export { glsStatistic } from './gls';
export { planRedraw } from './plan';
export type { RedrawPlan } from './plan';
export { redrawStatistic } from './statistic';
export type { RedrawStatistic } from './types';
