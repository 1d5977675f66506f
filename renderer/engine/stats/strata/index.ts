export { fitStrata } from './fit';
export type { StrataFit } from './fit';
export { buildStrata } from './structure';
export type { Stratum } from './structure';
