export * from './answers';
export * from './levels';
export * from './problems';
export * from './readGrid';
export * from './readQuestion';
export { quickPotHeightMm, spreadIn } from './rack';
