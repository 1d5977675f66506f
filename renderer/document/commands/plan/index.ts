export * from './editNotes';
export * from './renamePlan';
export * from './setLengthDisplay';
export * from './quickStart';
