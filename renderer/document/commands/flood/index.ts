export * from './addCircuit';
export * from './addMedium';
export * from './addZone';
export * from './editFlood';
export * from './editZone';
export * from './removeZone';
export * from './setFlood';
export * from './startFlood';
