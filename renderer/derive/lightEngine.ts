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
  Photometry,
  PhotometryAnswer,
  RotatedLight,
  ShelfField as LightField,
} from '../engine/light';
export { BEFORE_CHANGE, dli } from '../engine/light';
export { canopyHeightMm } from '../engine/geometry';
