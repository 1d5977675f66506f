export { covariateCautions } from './covariateCautions';
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
export * from './randomisation/test';
export type { RandomisationFound } from './randomisation/count';
export * from './randomisation/table';
export * from './randomisation/words';
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
export { POSITION_TERMS, positionHeads, positionWords, unbroken } from './wording';
export * from './externalTable';
export * from './series';
