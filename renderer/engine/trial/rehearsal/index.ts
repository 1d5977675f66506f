export type {
  Departures,
  RehearsedAnalysis,
  Grown,
  RehearsedFinding,
  RehearsedTest,
  Tester,
} from './analysis';
export { differencesBetweenEnds } from './effects';
export type { HarvestModel, InteractionEffect, TrueEffects } from './harvest';
export { rehearse, rehearsePart } from './rehearse';
export type { RehearsalRequest, RehearsedPart, RunsPart } from './request';
export { rehearsalReport } from './report';
export type { FactorRehearsal, RehearsalReport, TermRehearsal } from './report';
export type { Rate } from './tally';
