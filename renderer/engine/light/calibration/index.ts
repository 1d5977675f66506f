export {
  BEFORE_CHANGE,
  calibrate,
  readingPpfd,
  scaleIn,
  type Calibration,
  type CheckedReading,
  type GroupScale,
} from './calibrate';
