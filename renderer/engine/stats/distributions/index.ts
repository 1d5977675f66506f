export { findRoot } from './invert';
export {
  normalDensity,
  normalLower,
  normalQuantile,
  normalQuantileUpper,
  normalUpper,
} from './normal';
export { tLower, tQuantile, tQuantileUpper, tTwoSided, tUpper } from './t';
export {
  chiSquareLower,
  chiSquareQuantile,
  chiSquareQuantileUpper,
  chiSquareUpper,
} from './chi-square';
export { fLower, fQuantile, fQuantileUpper, fUpper } from './f';
export { logGamma } from './gamma';
export {
  studentizedRangeLower,
  studentizedRangeQuantile,
  studentizedRangeQuantileUpper,
  studentizedRangeUpper,
} from './studentized-range';
export {
  dunnettLoadings,
  dunnettLower,
  dunnettQuantile,
  dunnettQuantileUpper,
  dunnettUpper,
} from './dunnett';
export {
  noncentralTLower,
  noncentralTQuantile,
  noncentralTQuantileUpper,
  noncentralTUpper,
} from './noncentral-t';
export { noncentralFLower, noncentralFQuantile, noncentralFUpper } from './noncentral-f';
export {
  noncentralChiSquareLower,
  noncentralChiSquareQuantile,
  noncentralChiSquareUpper,
} from './noncentral-chi-square';
