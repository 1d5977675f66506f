export { DAYS_IN_A_ROW, driftBetween, driftFromSetting } from './drift';
export type { DatedFigure, Drift, Setting } from './drift';
export { toleranceOf } from './tolerance';
