export { fitMixed } from './fit-mixed';
export { fitAr1, type Ar1Fit, type Ar1Input } from './ar1';
export { fitSmooth, type SmoothInput } from './smooth';
export type { Denominator, MixedFit, MixedInput, RandomUnit } from './types';
