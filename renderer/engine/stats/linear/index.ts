export { estimateLinear, fitLinear, leverages, mean, predict, unscaledCovariance } from './fit';
export type { LinearFit } from './fit';
export { isEstimable } from './estimable';
export {
  at,
  columnLists,
  dot,
  fromColumns,
  fromRows,
  rowsOf,
  rowTimes,
  selectColumns,
  times,
  withColumns,
} from './matrix';
export { SPANNED, type Qr } from './householder';
export { factorise, spaceOf } from './qr';
export { addSparse, denseColumn, sparseDot } from './sparse';
export type { SparseColumn } from './sparse';
export { quadraticForm, standardError } from './wald';
