export { FloodLegend } from './FloodLegend';
export { FloodSide } from './FloodSide';
export { floodLook } from './look';
