export { fitMixed, mixedFits } from './fitMixed';
export { fitAr1, type Ar1Fit } from './ar1';
export type { Ar1Input } from './ar1Prepare';
export { fitSmooth, smoothFits, type SmoothInput } from './smooth';
export type { Denominator, MixedFit, MixedInput, RandomUnit } from './types';
