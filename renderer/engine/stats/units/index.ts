export { fitUnits } from './fit';
export type { MeanSquare, UnitsFit, UnitsTerm } from './fit';
export { distinctUnits, errorTermOf } from './structure';
