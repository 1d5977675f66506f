export { factored, solved } from './cholesky';
export {
  calibrate,
  foundBy,
  type Calibration,
  type CheckedReading,
  type ReadingsFound,
} from './calibrate';
export type { Implausible } from './implausible';
export { METER, type EstimateKnown } from './judge';
export { alike } from './regression';
export { BEFORE_CHANGE, EARLIER_RUN, luxUncertainty, readingPpfd, type TakenOf } from './rows';
export { scaleIn, type GroupScale } from './scales';
export { slipKinds, slipWords, type SlipKind } from './slips';
