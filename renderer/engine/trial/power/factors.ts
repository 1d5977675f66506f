import type { Trial } from '../../../../shared-types/trial';
import type { FactorUnits, UnitsReport } from '../units';
import { detectableDifference, powerCurve, powerForDifference } from './factor';
import { firstReaching, type FactorOnUnits, type PowerPoint } from './factor';

/** How well the trial as planned can judge one factor. */
export interface FactorPower {
  factorId: string;
  name: string;
  unit: FactorUnits['unit'];
  /** Units that carry a level, at the least. */
  unitsPerLevel: number;
  /** To find the smallest difference that matters; null where nothing can be tested. */
  power: number | null;
  /** Difference that is found with the wanted power; null where nothing can be tested. */
  detectable: number | null;
  /** Units per level that reach the wanted power; null where the looked-at range does not. */
  enough: number | null;
  curve: PowerPoint[];
}

/**
 * Power of every factor in its own stratum, from the spread that the plan expects. Between two
 * levels at the extremes, the others midway: the least favourable case for an F test of that
 * largest difference. `pots` is the number of measured pots.
 */
export function factorPowers(units: UnitsReport, trial: Trial, pots: number): FactorPower[] {
  const { expected, alpha } = trial;
  if (!expected) return [];
  return units.factors
    .filter((factor) => factor.unitsPerLevel.length >= 2)
    .map((factor) => {
      const each = factor.unitsPerLevel.map((level) => level.units);
      const least = Math.min(...each);
      const base = {
        potsPerUnit: factor.unit === 'pot' ? 1 : Math.max(1, pots / Math.max(1, factor.unitCount)),
        plantSd: expected.plantSd,
        unitSd: factor.unit === 'pot' ? 0 : expected.unitSd,
        alpha,
      };
      const onUnits: FactorOnUnits = { ...base, unitsPerLevel: each, dfError: factor.errorDf };
      const testable = factor.replicated && factor.errorDf > 0 && least > 0;
      // What the error keeps besides treatments stays as it is; the rest grows with the units.
      const taken = each.reduce((sum, n) => sum + n, 0) - factor.errorDf;
      const curve = powerCurve(
        { ...base, levels: each.length },
        expected.smallestDifference,
        (n) => n * each.length - Math.min(taken, n * each.length),
        Math.max(12, least * 2),
      );
      return {
        factorId: factor.factorId,
        name: factor.name,
        unit: factor.unit,
        unitsPerLevel: least,
        power: testable ? powerForDifference(onUnits, expected.smallestDifference) : null,
        detectable: testable ? detectableDifference(onUnits, expected.power) : null,
        enough: firstReaching(curve, expected.power)?.unitsPerLevel ?? null,
        curve,
      };
    });
}
