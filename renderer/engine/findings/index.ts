export type { Answer } from './answers/answer';
export { answersOf } from './answers/answers';
export { answerCards, type LaidAnswers } from './answers/cards';
export { sureTogether } from './answers/interactions';
export { learntWords } from './answers/learnt';
export { remarksOf, type Remark } from './answers/remarks';
export { sureMeaning, sureWords, type Sure } from './answers/sure';
export { covariateCautions } from './covariateCautions';
export * from './model/allocation';
export * from './anyModel';
export * from './asked';
export * from './checks';
export * from './sizes/effectSizes';
export * from './analyseTable';
export * from './findings';
export * from './findingsOf';
export { fitModel, fitTests } from './model/fitModel';
export * from './notices';
export * from './refused/obstacle';
export * from './sizes/planned';
export * from './plants';
export * from './statements/positionStatements';
export * from './position/positions';
export * from './position/effects';
export * from './question';
export * from './randomisation/test';
export { joinedLayouts, type RandomisationFound } from './randomisation/count';
export * from './randomisation/table';
export * from './randomisation/words';
export * from './model/designModel';
export * from './model/request';
export * from './model/roles';
export * from './refused/saturation';
export * from './model/scale';
export * from './position/sensitivity';
export * from './position/slopes';
export type { Statement } from './statements/statement';
export { isFixedBefore } from './statements/contrastStatements';
export * from './statements/statements';
export * from './table/table';
export * from './table/columns';
export * from './statements/terms';
export * from './refused/unitMismatches';
export {
  amongMeans,
  analysedOf,
  averagedWords,
  refusePlaceOfMeans,
  rehearsedMeansWords,
  type Analysed,
  type Averaged,
} from './model/unitMeans';
export { POSITION_TERMS, positionHeads, positionWords, unbroken } from './statements/wording';
export * from './table/externalTable';
export { paceOf, paceWords, type Pace } from './pace';
export * from './series';
export * from './table/inRun';
