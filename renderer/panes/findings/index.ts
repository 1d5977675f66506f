export { FindingsLegend } from './FindingsLegend';
export { FindingsSide } from './FindingsSide';
export { findingsLook } from './look';
