export * from './bays';
export * from './codes';
export * from './find';
export * from './pots';
export * from './rect';
export * from './walk';
export * from './notices';
export * from './hash';
