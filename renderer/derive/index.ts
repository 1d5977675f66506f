export * from './light';
export * from './trial';
