export * from './estimate';
export * from './lengths';
export * from './lists';
export * from './notice';
export * from './numbers';
export * from './probability';
export * from './share';
export * from './units';
