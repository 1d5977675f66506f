export * from './findings';
export * from './growth';
export * from './light';
export * from './notices';
export * from './stages';
export * from './trial';
export * from './version';
