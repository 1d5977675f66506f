export { LightLegend } from './LightLegend';
export { LightSide } from './LightSide';
export { lightLook } from './look';
export { useLightShown, type LightShown } from './shown';
export { placeReading } from './lightSession';
