export * from './arrange';
export {
  BEFORE_CHANGE,
  EARLIER_RUN,
  calibrate,
  luxUncertainty,
  readingPpfd,
  slipWords,
  type ReadingsFound,
  type CheckedReading,
  type GroupScale,
} from './calibration';
export type { PointMm } from './sources/direct';
export * from './dli';
export type { LightUncertainty } from './uncertainty';
export * from './energy';
export * from './evenness';
export * from './field';
export { bayHours, shelfAfter } from './hours';
export * from './notices';
export * from './potLight';
export { shelfInRoom, shelvesInRoom } from '../lamps';
export * from './rotation';
export * from './shade';
export * from './shelfFigures';
export * from './shelfLight';
export { luxPerPpfdOf, type SpectrumPoint } from './luxFactor';
