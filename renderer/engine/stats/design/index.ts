export { uncentredWeights } from './uncentred';
export { buildDesign, designMatrix, sumMatrix } from './design';
export type { Design, DesignTerm } from './design';
export { termColumns } from './coding';
export type { Coding, DesignColumn } from './coding';
export { refuseSharedPlaces } from './position';
export { combineColumns, randomUnits } from './units';
export type { UnitCodes } from './units';
export { crossedName, sameNames } from './terms';
