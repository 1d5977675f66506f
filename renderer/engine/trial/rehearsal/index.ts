export { rehearse } from './rehearse';
export type { FactorRehearsal, Rate, RehearsalReport, RehearsalRequest } from './rehearse';
export type { HarvestModel } from './harvest';
