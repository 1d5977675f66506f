export { BlockLegend } from './BlockLegend';
export { blockLook } from './look';
export { TrialSide } from './TrialSide';
