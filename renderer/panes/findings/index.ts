export { FindingsLegend } from './FindingsLegend';
export { FindingsSide } from './FindingsSide';
export { findingsLook } from './look';
export { RACK_SHOWN, type RackShown } from './rackShown';
