// The engine's words that screens and stores speak in; they never reach past derive themselves.
export { letterOf, potsOfRack, trayCode, walkingOrder, type Pot } from '../engine/geometry';
export type { LightSummary } from '../engine/light';
export type { BalanceRow, FactorUnits, SkeletonRow } from '../engine/trial';
export {
  paragraph,
  POSITION_WORDS,
  termOf,
  type Findings,
  type FindingsInput,
  type FindingsOutcome,
  type PositionFit,
  type ResponseIndex,
} from '../engine/findings';
export type { FactorPower } from '../engine/trial/power';
export type { FactorRehearsal, HarvestModel, Rate, RehearsalReport } from '../engine/trial';
