export {
  BEFORE_CHANGE,
  calibrate,
  readingPpfd,
  scaleIn,
  type Calibration,
  type CheckedReading,
  type GroupScale,
} from './calibrate';
export type { Implausible } from './implausible';
