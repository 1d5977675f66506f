export { LayoutSide } from './LayoutSide';
export { layoutLook } from './look';
export { TreatmentLegend } from './TreatmentLegend';
