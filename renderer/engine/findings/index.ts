export * from './allocation';
export * from './anyModel';
export * from './asked';
export * from './checks';
export * from './effectSizes';
export * from './findings';
export { fitModel, fitTests } from './fitModel';
export * from './notices';
export * from './obstacle';
export * from './planned';
export * from './plants';
export * from './positionStatements';
export * from './positions';
export * from './question';
export * from './randomisationTest';
export type { RandomisationFound } from './randomisationCount';
export * from './randomisationTable';
export * from './randomisationWords';
export * from './request';
export * from './roles';
export * from './saturation';
export * from './scale';
export * from './sensitivity';
export * from './slopes';
export type { Statement } from './statement';
export * from './statements';
export * from './table';
export * from './terms';
export * from './unitMismatches';
export {
  amongMeans,
  analysedOf,
  averagedWords,
  refusePlaceOfMeans,
  rehearsedMeansWords,
  type Analysed,
  type Averaged,
} from './unitMeans';
export { POSITION_WORDS, positionHeads, positionWords, unbroken } from './wording';
export * from './externalTable';
export * from './series';
export { randomisationTestOrRefuse, tableRandomisationOrRefuse } from './randomisationOrRefuse';
