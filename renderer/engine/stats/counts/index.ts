export { fitCounts } from './fit';
export type { CountsFit, CountsKind } from './fit';
export type { CountsInput } from './irls';
export { devianceTest } from './tests';
