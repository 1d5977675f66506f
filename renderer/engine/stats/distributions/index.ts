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
