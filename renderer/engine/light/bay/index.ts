export * from './box';
export * from './duct';
export * from './gather';
export * from './lampsOnPatches';
export * from './radiosity';
export { elementToPatch, rectangleExchange } from './viewFactors';
