export * from './findings';
export * from './question';
export * from './request';
export * from './roles';
export * from './statements';
export * from './table';
export * from './notices';
