import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { potsToMeasure } from '../../document/queries/records';
import { dateOf, daysBetween } from '../../engine/calendar';
import { daysLate, questionOf, seriesOf } from '../../engine/findings';
import {
  absoluteGrowthRate,
  meanRelativeGrowthRate,
  percentGain,
  type Growth,
} from '../../engine/growth';
import { placedPotsOf, treatmentsOfPlan } from '../trial/trial';

export interface GrowthRow {
  key: string;
  letter: string | null;
  name: string;
  /** Place in the list of treatments, which decides the look. */
  index: number;
  pots: number;
  start: number;
  final: number;
  /** Mean of the plants' own gains, per day. */
  gainPerDay: number;
  /** Mean of the plants' own gains in per cent of their start; null where a start is not positive. */
  percent: number | null;
  /** Mean of the plants' own rates, per day; null where a value is not positive. */
  rate: { value: number; se: number } | null;
}

export interface GrowthByTreatment {
  unit: string;
  days: number;
  rows: GrowthRow[];
}

/**
 * Start and later value of plants measured at both, by treatment. null where the measurement was
 * not taken at the start, or no days lie between.
 */
export function growthByTreatment(plan: Plan, measurementId: string): GrowthByTreatment | null {
  const question = plan.trial && questionOf(plan.trial, measurementId, 'gain');
  if (!question?.start) return null;
  return growthBetween(plan, question.start.id, question.measurement.id);
}

/** Measurements of the same thing as this one that have a date and values, first to last. */
export function datesOf(plan: Plan, measurement: Measurement): Measurement[] {
  if (!plan.trial) return [];
  return seriesOf(plan.trial, measurement).filter(
    (m) => Object.keys(plan.records.values[m.id] ?? {}).length > 0,
  );
}

/** The same between any two dates of one thing; null where no days lie between. */
export function growthBetween(plan: Plan, fromId: string, toId: string): GrowthByTreatment | null {
  const { trial } = plan;
  const start = trial?.measurements.find((m) => m.id === fromId);
  const measurement = trial?.measurements.find((m) => m.id === toId);
  if (!trial || !start || !measurement) return null;
  const [from, to] = [dateOf(trial, start), dateOf(trial, measurement)];
  const days = from && to ? daysBetween(from, to) : 0;
  if (days <= 0) return null;
  const starts = plan.records.values[start.id] ?? {};
  const finals = plan.records.values[measurement.id] ?? {};
  const placed = placedPotsOf(plan);
  const groups = new Map<number, Growth[]>();
  for (const { id } of potsToMeasure(plan)) {
    const from = starts[id];
    const to = finals[id];
    if (from === undefined || to === undefined || plan.records.marks[id]) continue;
    const index = placed.get(id)?.index ?? -1;
    const late = (m: Measurement) => daysLate({ trial, records: plan.records }, m, id);
    const own = days + late(measurement) - late(start);
    if (own <= 0) continue;
    const group = groups.get(index) ?? [];
    group.push({ start: from, end: to, days: own });
    groups.set(index, group);
  }
  const treatments = treatmentsOfPlan(plan);
  const rows = [...groups]
    .sort(([a], [b]) => a - b)
    .map(([index, group]): GrowthRow => {
      const treatment = treatments[index];
      return {
        key: treatment?.key ?? 'all',
        letter: treatment?.letter ?? null,
        name: treatment?.name ?? 'All pots',
        index: Math.max(0, index),
        pots: group.length,
        start: mean(group.map((plant) => plant.start)),
        final: mean(group.map((plant) => plant.end)),
        gainPerDay: mean(group.map(absoluteGrowthRate)),
        percent: group.every((plant) => plant.start > 0) ? mean(group.map(percentGain)) : null,
        rate: rateOf(group),
      };
    });
  return { unit: measurement.unit, days, rows };
}

function rateOf(plants: readonly Growth[]): GrowthRow['rate'] {
  if (plants.some(({ start, end }) => start <= 0 || end <= 0)) return null;
  const { rate, se } = meanRelativeGrowthRate(plants);
  return se === null ? null : { value: rate, se };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
