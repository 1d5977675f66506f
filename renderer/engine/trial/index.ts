export { blockNames, blocksOf, lacksLight } from './blocks/blocks';
export { measuredPots } from './measuredPots';
export { asApplied } from './applied';
export { trialPotsOf, unitIdOf, zoneByTray, type TrialPot, type ZoneTrays } from './site/trialPot';
export type { Block, ListedPlant, PpfdByPot, TrialInput } from './input';
export { balanceOf } from './figures/balance';
export type { BalanceRow, BalanceTable } from './figures/balance';
export type { StageReport } from './constraint/prepared';
export { assignmentsOf, drawLayout, drawLayoutToKeep, prepareDraw } from './draw/draw';
export type { DrawReport, DrawRequest } from './draw/draw';
export type { Drawn, PreparedDraw } from './draw/preparedDraw';
export { drawnSite } from './draw/drawnFrom';
export { layoutNotices, startNotices, trialNotices } from './notices';
export { gridLeftOut } from './notices/grid';
export type { NoticeInput } from './notices';
export { dealPlants, substitutesFor } from './plants/plants';
export type { Plant } from './plants/plants';
export { combinationsOf, treatmentKey, treatmentsOf } from './treatments';
export type { Treatment } from './treatments';
export { unitsOf } from './units';
export type { FactorUnits, SkeletonRow, UnitsReport } from './strata/skeleton';
export { applySwaps } from './draw/swaps';
export { layoutState, verifyLayout } from './draw/verify';
export type { LayoutState, Verification } from './draw/verify';
export { schemeWords } from './words';
export { shuffle, shuffledNumbers, stream } from './stream';
export type { Stream } from './stream';
export {
  blockEfficiency,
  latinEfficiency,
  layoutEfficiency,
  lineEfficiency,
  lightInBlocks,
  smallSampleFactor,
} from './figures/efficiency';
export type { LightInBlocks } from './figures/efficiency';
export { assumedWords, spreadBetween, termPowers, type TermPower } from './power';
export { FEWEST_ERROR_DF, gradeOf, gradeWords, isWorse, type Grade } from './grade';
export { differencesBetweenEnds, rehearsalReport, rehearse, rehearsePart } from './rehearsal';
export type {
  Departures,
  RehearsedAnalysis,
  RehearsedPart,
  RunsPart,
  FactorRehearsal,
  Grown,
  HarvestModel,
  InteractionEffect,
  Rate,
  RehearsalReport,
  RehearsalRequest,
  TermRehearsal,
  RehearsedFinding,
  RehearsedTest,
  Tester,
  TrueEffects,
} from './rehearsal';
