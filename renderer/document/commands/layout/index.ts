export * from './dropLayout';
export * from './keepLayout';
export * from './markPlanted';
export * from './placePlants';
export * from './setPlants';
export * from './substitutePlant';
export * from './swapPots';
export * from './unlockLayout';
