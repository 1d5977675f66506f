export * from './box';
export * from './gather';
export * from './lampsOnPatches';
export * from './radiosity';
