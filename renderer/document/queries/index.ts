export * from './added';
export * from './days';
export * from './names';
export * from './place';
export * from './records';
export * from './refs';
export * from './selection';
export * from './standing';
