export { FindingsLegend } from './onRack/FindingsLegend';
export { FindingsSide } from './FindingsSide';
export { findingsLook } from './onRack/look';
export {
  RACK_BESIDE,
  RACK_SHOWN,
  racksChosen,
  racksOf,
  rackShownWords,
  type RackShown,
} from './onRack/rackShown';
