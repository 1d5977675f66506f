export { fitStrata } from './fit';
export type { StrataFit } from './fit';
export { buildStrata, refines } from './structure';
export type { ErrorStratum } from './structure';
