export { BlockLegend } from './BlockLegend';
export { blockLook } from './look';
export { JudgedSection } from './JudgedSection';
export { TrialSide } from './TrialSide';
