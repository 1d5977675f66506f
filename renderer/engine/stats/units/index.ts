export { fitUnits, unitTests } from './fit';
export type { UnitsFit, UnitsTerm } from './fit';
export type { MeanSquare } from './spaces';
export { distinctUnits, errorTermOf } from './structure';
