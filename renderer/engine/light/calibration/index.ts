export { calibrate, readingPpfd, type Calibration, type CheckedReading } from './calibrate';
