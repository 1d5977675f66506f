export * from './answers';
export * from './levels';
export * from './problems';
export * from './readGrid';
export * from './readQuestion';
export { spreadIn } from './rack';
