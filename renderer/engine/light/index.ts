export * from './direct';
export * from './dli';
export * from './evenness';
export * from './field';
export * from './notices';
export * from './output';
export * from './photometry';
export * from './potLight';
