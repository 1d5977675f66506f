export {
  BEFORE_CHANGE,
  calibrate,
  readingPpfd,
  type Calibration,
  type CheckedReading,
} from './calibrate';
export type { Implausible } from './implausible';
export { scaleIn, type GroupScale } from './scales';
