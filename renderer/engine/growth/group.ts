import { relativeGrowthRate, type Growth } from './rates';
import { requireFinite, requireQuantity } from '../require';
import { Refusal } from '../../words';

/** A relative growth rate per day with its standard error. */
export interface GroupRate {
  rate: number;
  /** null where there are too few plants to tell. */
  se: number | null;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Variance with divisor n − 1; null for a single value. */
function variance(values: readonly number[]): number | null {
  if (values.length < 2) return null;
  const centre = mean(values);
  return values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1);
}

function logs(name: string, masses: readonly number[]): number[] {
  const where = 'relative growth rate of a group';
  if (masses.length === 0) throw new Refusal(`${where}: no ${name} masses; expected one or more`);
  return masses.map((mass, i) => {
    requireQuantity(where, `${name} mass ${i + 1}`, mass);
    return Math.log(mass);
  });
}

/**
 * Relative growth rate of a group whose plants were harvested at two dates, different plants each:
 * (mean ln W₂ − mean ln W₁) / T, with SE √(s₁²/n₁ + s₂²/n₂) / T, s² of ln W (Hoffmann & Poorter
 * 2002, Annals of Botany 90, 37–42). The logarithm of the mean masses would be biased.
 */
export function groupRelativeGrowthRate(
  startMasses: readonly number[],
  endMasses: readonly number[],
  days: number,
): GroupRate {
  requireQuantity('relative growth rate of a group', 'days', days);
  const [start, end] = [logs('start', startMasses), logs('end', endMasses)];
  const [startVariance, endVariance] = [variance(start), variance(end)];
  const se =
    startVariance === null || endVariance === null
      ? null
      : Math.sqrt(startVariance / start.length + endVariance / end.length) / days;
  return { rate: (mean(end) - mean(start)) / days, se };
}

/**
 * Relative growth rate of a group whose plants were each weighed twice: the mean of the plants'
 * own rates, with the standard error of that mean.
 */
export function meanRelativeGrowthRate(plants: readonly Growth[]): GroupRate {
  if (plants.length === 0) {
    throw new Refusal('relative growth rate of a group: no plants; expected one or more');
  }
  const rates = plants.map(relativeGrowthRate);
  const spread = variance(rates);
  return { rate: mean(rates), se: spread === null ? null : Math.sqrt(spread / rates.length) };
}

/**
 * Relative growth rate over several dates: the least-squares slope of ln W on time, per day
 * (Hunt 1982). Two or more different days; the standard error takes three or more weighings.
 */
export function fittedRelativeGrowthRate(
  days: readonly number[],
  masses: readonly number[],
): GroupRate {
  const where = 'relative growth rate over several dates';
  if (days.length !== masses.length) {
    throw new Refusal(
      `${where}: ${days.length} days and ${masses.length} masses; expected as many`,
    );
  }
  days.forEach((day, i) => {
    requireFinite(where, `day ${i + 1}`, day);
    requireQuantity(where, `mass ${i + 1}`, masses[i] ?? NaN);
  });
  const centre = mean(days);
  const logMasses = masses.map((mass) => Math.log(mass));
  const level = mean(logMasses);
  let ssDays = 0;
  let cross = 0;
  days.forEach((day, i) => {
    ssDays += (day - centre) ** 2;
    cross += (day - centre) * ((logMasses[i] ?? NaN) - level);
  });
  if (!(ssDays > 0)) throw new Refusal(`${where}: one date only; expected two or more`);
  const rate = cross / ssDays;
  const n = days.length;
  if (n < 3) return { rate, se: null };
  let residual = 0;
  days.forEach((day, i) => {
    residual += ((logMasses[i] ?? NaN) - level - rate * (day - centre)) ** 2;
  });
  return { rate, se: Math.sqrt(residual / (n - 2) / ssDays) };
}
