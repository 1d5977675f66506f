export * from './box';
export * from './duct';
export * from './gather';
export * from './lampsOnPatches';
export * from './radiosity';
export { rectangleExchange } from './viewFactors';
