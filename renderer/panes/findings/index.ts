export { FindingsLegend } from './FindingsLegend';
export { FindingsSide } from './FindingsSide';
export { findingsLook } from './look';
export {
  RACK_BESIDE,
  RACK_SHOWN,
  racksChosen,
  racksOf,
  rackShownWords,
  type RackShown,
} from './rackShown';
