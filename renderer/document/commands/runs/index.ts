export * from './planRuns';
export * from './removeRun';
