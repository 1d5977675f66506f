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
} from './chiSquare';
export { fLower, fQuantile, fQuantileUpper, fUpper } from './f';
export { logGamma } from './gamma';
export {
  studentizedRangeLower,
  studentizedRangeQuantile,
  studentizedRangeQuantileUpper,
  studentizedRangeUpper,
} from './studentizedRange';
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
} from './noncentralT';
export { noncentralFLower, noncentralFQuantile, noncentralFUpper } from './noncentralF';
export {
  noncentralChiSquareLower,
  noncentralChiSquareQuantile,
  noncentralChiSquareUpper,
} from './noncentralChiSquare';
