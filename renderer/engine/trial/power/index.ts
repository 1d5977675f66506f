export { assumedWords, spreadBetween } from './assumedSpread';
export { power } from './power';
export { criticalF, detectableNoncentrality, powerOfTerm, type TermInStratum } from './term';
export {
  detectableDifference,
  firstReaching,
  powerCurve,
  powerForDifference,
  type FactorOnUnits,
  type PowerPoint,
} from './factor';
export { termPowers, type TermPower } from './factors';
export { powerNotices } from './notices';
export { meanUnitSize, unitVarianceUpper, type UnitMeanSquares } from './unitSpread';
