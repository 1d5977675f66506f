// The engine's words that screens and stores speak in; they never reach past derive themselves.
export { letterOf, potsOfRack, trayCode, walkingOrder, type Pot } from '../engine/geometry';
export type { LightSummary } from '../engine/light';
export type { BalanceRow, FactorUnits, SkeletonRow } from '../engine/trial';
export {
  criterionGap,
  CRITERION_BASIS,
  controlOf,
  effectSize,
  inPlanOrder,
  levelOrder,
  judges,
  mainComparison,
  paragraph,
  partialEtaSquared,
  POSITION_WORDS,
  list,
  percentOf,
  ruleSentence,
  said,
  saidDf,
  saidP,
  saidRange,
  sensitivityOf,
  statements,
  termOf,
  trendContrasts,
  type Effect,
  type Findings,
  type FindingsInput,
  type FindingsOutcome,
  type FactorRole,
  type PositionFit,
  type PotCheck,
  type RedrawFound,
  type ResponseIndex,
  type SensitivityRow,
  type Series,
  type TableReading,
} from '../engine/findings';
export type { FactorPower } from '../engine/trial/power';
export type { FactorRehearsal, HarvestModel, Rate, RehearsalReport } from '../engine/trial';
