import type { Trial } from '../../../../shared-types/trial/trial';
import type { FactorUnits, SkeletonRow, UnitsReport } from '../strata/skeleton';
import { powerCurve, powerForDifference, detectableDifference } from './factor';
import type { FactorOnUnits, PowerPoint } from './factor';
import { combinationsOf } from '../treatments';
import { spreadBetween } from './assumedSpread';
import { detectableNoncentrality, powerOfTerm } from './term';

/** How well the trial as planned can judge one factor, or one interaction of factors. */
export interface TermPower {
  /** One id: a factor. Several: their interaction. */
  factorIds: string[];
  /** As in the skeleton of the analysis: `feed`, `feed × cultivar`. */
  name: string;
  /** The unit that is counted: of a factor its own, of an interaction the finest. */
  unit: FactorUnits['unit'];
  stratum: string;
  dfEffect: number;
  dfError: number;
  /** Units that carry a level (of an interaction: a combination of levels), at the least. */
  unitsPerLevel: number;
  /** To find the smallest difference that matters; null where nothing can be tested. */
  power: number | null;
  /** Difference that is found with the wanted power; null where nothing can be tested. */
  detectable: number | null;
  /** Units per level that reach the wanted power; null where not even `MOST_UNITS` do. */
  enough: number | null;
  curve: PowerPoint[];
}

const MOST_UNITS = 4096;
/** Points of a curve; more would not show. */
const POINTS = 40;

/**
 * Power of every term in its own stratum, from the spread that the plan expects. A factor: between
 * two levels at the extremes, the others midway, the least favourable case for an F test of that
 * largest difference. An interaction of k factors: two levels of each, such that the difference
 * between differences is the one that matters; 2ᵏ cells then deviate by d/2ᵏ, and λ = n d²/(2ᵏ σ²)
 * with n units a combination. `pots` is the number of measured pots.
 */
export function termPowers(units: UnitsReport, trial: Trial, pots: number): TermPower[] {
  const { expected } = trial;
  if (!expected) return [];
  const mains = units.factors
    .filter((factor) => factor.unitsPerLevel.length >= 2)
    .map((factor) => mainPower(factor, units, trial, expected, pots));
  const interactions = units.skeleton
    .filter((row) => row.factorIds.length > 1 && row.df > 0)
    .map((row) => interactionPower(row, units, trial, expected, pots));
  return [...mains, ...interactions];
}

type Expected = NonNullable<Trial['expected']>;

interface Spread {
  potsPerUnit: number;
  plantSd: number;
  unitSd: number;
  alpha: number;
}

function spreadOn(
  factor: Pick<FactorUnits, 'unit' | 'unitCount'>,
  trial: Trial,
  expected: Expected,
  pots: number,
): Spread {
  return {
    potsPerUnit: factor.unit === 'pot' ? 1 : Math.max(1, pots / Math.max(1, factor.unitCount)),
    plantSd: expected.plantSd,
    unitSd: spreadBetween(factor.unit, expected).sd,
    alpha: trial.alpha,
  };
}

function mainPower(
  factor: FactorUnits,
  { skeleton }: UnitsReport,
  trial: Trial,
  expected: Expected,
  pots: number,
): TermPower {
  const each = factor.unitsPerLevel.map((level) => level.units);
  const levels = each.length;
  const least = Math.min(...each);
  const spread = spreadOn(factor, trial, expected, pots);
  const onUnits: FactorOnUnits = { ...spread, unitsPerLevel: each, dfError: factor.errorDf };
  const testable = factor.replicated && factor.errorDf > 0 && least > 0;
  const own = skeleton.find((row) => row.factorIds.length === 1 && isOf(row, factor));
  const difference = expected.smallestDifference;
  // What the error keeps besides treatments stays as it is; the rest grows with the units.
  const taken = each.reduce((sum, n) => sum + n, 0) - factor.errorDf;
  const dfErrorOf = (n: number): number => Math.max(0, n * levels - taken);
  const powerAt = (n: number): number | null => {
    const dfError = dfErrorOf(n);
    if (dfError <= 0) return null;
    const even = Array<number>(levels).fill(n);
    return powerForDifference({ ...spread, unitsPerLevel: even, dfError }, difference);
  };
  const step = stepOf(least);
  return {
    factorIds: [factor.factorId],
    name: factor.name,
    unit: factor.unit,
    stratum: factor.stratum,
    dfEffect: own?.df ?? levels - 1,
    dfError: factor.errorDf,
    unitsPerLevel: least,
    power: testable ? powerForDifference(onUnits, difference) : null,
    detectable: testable ? detectableDifference(onUnits, expected.power) : null,
    enough: leastReaching(powerAt, expected.power),
    curve: powerCurve({ ...spread, levels }, difference, dfErrorOf, mostOf(least), step),
  };
}

const isOf = (row: SkeletonRow, factor: FactorUnits): boolean =>
  row.factorIds.includes(factor.factorId);

function interactionPower(
  row: SkeletonRow,
  units: UnitsReport,
  trial: Trial,
  expected: Expected,
  pots: number,
): TermPower {
  const factors = units.factors.filter((factor) => isOf(row, factor));
  const finest = factors.reduce((best, factor) =>
    factor.unitCount > best.unitCount ? factor : best,
  );
  const cells = combinationsOf(trial.factors.filter((one) => row.factorIds.includes(one.id)));
  const combinations = cells.length;
  const spread = spreadOn({ unit: finest.unit, unitCount: row.units }, trial, expected, pots);
  const variance = spread.unitSd ** 2 + spread.plantSd ** 2 / spread.potsPerUnit;
  const error = units.skeleton.find((other) => other.stratum === row.stratum && other.isError);
  const dfError = error?.df ?? 0;
  // Units of a combination; with unequal numbers their harmonic mean, as for a factor.
  const fullSet = cells.reduce((sum, cell) => sum + cell.times, 0);
  const inverses = cells.reduce((sum, cell) => sum + 1 / cell.times, 0);
  const each = ((row.units / fullSet) * combinations) / inverses;
  const taken = row.units - dfError;
  const ofOne = 1 / (2 ** factors.length * variance);
  const difference = expected.smallestDifference;
  const { alpha } = trial;
  const powerAt = (n: number): number | null => {
    const left = n * combinations - taken;
    if (left <= 0) return null;
    const noncentrality = n * ofOne * difference ** 2;
    return powerOfTerm({ dfEffect: row.df, dfError: left, alpha, noncentrality });
  };
  const testable = dfError > 0 && each > 0 && variance > 0;
  const stratum = { dfEffect: row.df, dfError, alpha };
  const most = mostOf(Math.floor(each));
  const step = stepOf(Math.floor(each));
  return {
    factorIds: row.factorIds,
    name: row.source,
    unit: finest.unit,
    stratum: row.stratum,
    dfEffect: row.df,
    dfError,
    unitsPerLevel: Math.floor(each),
    power: testable
      ? powerOfTerm({ ...stratum, noncentrality: each * ofOne * difference ** 2 })
      : null,
    detectable: testable
      ? Math.sqrt(detectableNoncentrality({ ...stratum, power: expected.power }) / (each * ofOne))
      : null,
    enough: testable ? leastReaching(powerAt, expected.power) : null,
    curve: Array.from({ length: Math.ceil(most / step) }, (_, i) => {
      const n = 1 + i * step;
      return {
        unitsPerLevel: n,
        dfError: Math.max(0, n * combinations - taken),
        power: powerAt(n),
      };
    }),
  };
}

/** A curve reaches to twice what the rack holds, or a dozen. */
const mostOf = (held: number): number => Math.max(12, held * 2);
const stepOf = (held: number): number => Math.max(1, Math.floor(mostOf(held) / POINTS));

/** Fewest units whose power is reached: doubled until it is, then halved in between. */
function leastReaching(powerAt: (units: number) => number | null, power: number): number | null {
  const reaches = (units: number): boolean => (powerAt(units) ?? 0) >= power;
  let high = 1;
  while (!reaches(high)) {
    high *= 2;
    if (high > MOST_UNITS) return null;
  }
  let low = Math.floor(high / 2);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (reaches(middle)) high = middle;
    else low = middle;
  }
  return high;
}
