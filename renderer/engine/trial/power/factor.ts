import { detectableNoncentrality, powerOfTerm } from './term';
import { Refusal } from '../../../words';

/**
 * One factor on its own experimental units (trays, shelves or pots), with what is expected of the
 * spread between them.
 */
export interface FactorOnUnits {
  /** Units that carry each level, one entry a level. */
  unitsPerLevel: readonly number[];
  /** Pots that are measured on each unit; 1 where the pot is the unit. */
  potsPerUnit: number;
  /** Degrees of freedom of the factor's error term. */
  dfError: number;
  /** SD between plants of one unit treated alike. */
  plantSd: number;
  /** SD between units treated alike, over and above their plants; 0 where the pot is the unit. */
  unitSd: number;
  alpha: number;
}

/**
 * Noncentrality of a difference of 1 between two extreme levels, the others midway:
 * (n / 2) / (σ²unit + σ²plant / pots), n the units of a level. With unequal numbers n is their
 * harmonic mean, as it is in the variance of a difference.
 */
function noncentralityOfOne(factor: FactorOnUnits): number {
  const { unitsPerLevel, potsPerUnit, plantSd, unitSd } = factor;
  if (unitsPerLevel.length < 2) {
    throw new Refusal(`power: ${unitsPerLevel.length} levels; expected two or more`);
  }
  const inverses = unitsPerLevel.reduce((sum, units) => {
    if (!(units > 0))
      throw new Refusal(`power: ${units} units carry a level; expected one or more`);
    return sum + 1 / units;
  }, 0);
  if (!(potsPerUnit >= 1)) {
    throw new Refusal(`power: ${potsPerUnit} pots per unit; expected one or more`);
  }
  const variance = unitSd * unitSd + (plantSd * plantSd) / potsPerUnit;
  if (!(unitSd >= 0 && plantSd >= 0 && variance > 0 && variance < Infinity)) {
    throw new Refusal(
      `power: SD ${plantSd} between plants and ${unitSd} between units; expected numbers from 0, one above`,
    );
  }
  return unitsPerLevel.length / inverses / (2 * variance);
}

const stratum = (factor: FactorOnUnits): { dfEffect: number; dfError: number; alpha: number } => ({
  dfEffect: factor.unitsPerLevel.length - 1,
  dfError: factor.dfError,
  alpha: factor.alpha,
});

/** Power to find a true difference between two extreme levels, the others midway. */
export function powerForDifference(factor: FactorOnUnits, difference: number): number {
  const noncentrality = noncentralityOfOne(factor) * difference * difference;
  return powerOfTerm({ ...stratum(factor), noncentrality });
}

/** Smallest difference between two extreme levels, the others midway, found with this power. */
export function detectableDifference(factor: FactorOnUnits, power: number): number {
  const noncentrality = detectableNoncentrality({ ...stratum(factor), power });
  return Math.sqrt(noncentrality / noncentralityOfOne(factor));
}

export interface PowerPoint {
  unitsPerLevel: number;
  dfError: number;
  /** null where no degrees of freedom are left for error. */
  power: number | null;
}

/**
 * Power over the numbers of units per level from 1 to `most`, for a curve over what space allows.
 * With a large `most` every `step`-th number will do.
 * `dfErrorOf` says how many degrees of freedom the error term has with so many units per level.
 */
export function powerCurve(
  factor: Omit<FactorOnUnits, 'unitsPerLevel' | 'dfError'> & { levels: number },
  difference: number,
  dfErrorOf: (unitsPerLevel: number) => number,
  most: number,
  step = 1,
): PowerPoint[] {
  const points: PowerPoint[] = [];
  for (let units = 1; units <= most; units += step) {
    const dfError = dfErrorOf(units);
    const unitsPerLevel = Array<number>(factor.levels).fill(units);
    points.push({
      unitsPerLevel: units,
      dfError,
      power:
        dfError > 0 ? powerForDifference({ ...factor, unitsPerLevel, dfError }, difference) : null,
    });
  }
  return points;
}

/** The first point of a curve that reaches the power; null where none does. */
export function firstReaching(curve: readonly PowerPoint[], power: number): PowerPoint | null {
  return curve.find((point) => point.power !== null && point.power >= power) ?? null;
}
