export {
  BEFORE_CHANGE,
  calibrate,
  readingPpfd,
  type Calibration,
  type CheckedReading,
} from './calibrate';
