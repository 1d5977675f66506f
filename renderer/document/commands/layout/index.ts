export * from './dropLayout';
export * from './keepLayout';
export * from './markPlanted';
export * from './swapPots';
export * from './unlockLayout';
