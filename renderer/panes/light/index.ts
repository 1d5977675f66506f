export { LightLegend } from './LightLegend';
export { LightSide } from './LightSide';
export { lightLook } from './look';
