// The light engine's words that screens speak in.
export type {
  ArrangeAnswer,
  ArrangeRequest,
  Arrangement,
  Calibration,
  CheckedReading,
  Evenness,
  LightEnergy,
  PotLight,
  RotatedLight,
  ShelfField as LightField,
} from '../../engine/light';
export type { LitSide, Photometry, PhotometryAnswer } from '../../engine/lamps';
export { litSides } from '../../engine/lamps';
export { BEFORE_CHANGE, dli } from '../../engine/light';
export { canopyHeightMm } from '../../engine/geometry';
