export { fitMixed } from './fit-mixed';
export type { Denominator, MixedFit, MixedInput, RandomUnit } from './types';
