export * from './setFlood';
export * from './startFlood';
