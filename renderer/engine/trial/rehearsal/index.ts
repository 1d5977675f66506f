export type { RehearsedAnalysis, Grown, RehearsedFinding, RehearsedTest, Tester } from './analysis';
export { differencesBetweenEnds } from './effects';
export type { HarvestModel, InteractionEffect, TrueEffects } from './harvest';
export { rehearse } from './rehearse';
export type { FactorRehearsal, RehearsalReport, RehearsalRequest, TermRehearsal } from './rehearse';
export type { Rate } from './tally';
