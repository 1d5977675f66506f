export { fitMixed, mixedFits } from './fitMixed';
export { fitAr1, type Ar1Fit } from './ar1/ar1';
export type { Ar1Input } from './ar1/prepare';
export { fitSmooth, smoothFits, type SmoothInput } from './place/smooth';
export type { Denominator, MixedFit, MixedInput, RandomUnit } from './types';
