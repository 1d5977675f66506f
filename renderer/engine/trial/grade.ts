import type { FactorUnits } from './strata/skeleton';

/** How well a trial can answer what it asks of one factor. */
export const grades = ['cannot', 'weak', 'fair', 'strong'] as const;
export type Grade = (typeof grades)[number];
export const gradeWords: Record<Grade, string> = {
  cannot: 'cannot answer',
  weak: 'weak',
  fair: 'fair',
  strong: 'strong',
};

/** Below this a test exists on paper only: the t quantile is past 3. */
export const FEWEST_ERROR_DF = 4;
/** From here on more units lower the t quantile by less than a tenth. */
export const MANY_ERROR_DF = 10;

/**
 * Grade of one factor on its units. `detectable`: the difference that is found with the wanted power,
 * `wanted`: the smallest that matters; null where nobody said what is expected: then degrees of
 * freedom alone decide.
 */
export function gradeOf(
  factor: Pick<FactorUnits, 'replicated' | 'errorDf' | 'unitsPerLevel'>,
  detectable: number | null,
  wanted: number | null,
): Grade {
  const least = Math.min(...factor.unitsPerLevel.map(({ units }) => units));
  if (!factor.replicated || factor.errorDf < 1 || least < 1) return 'cannot';
  if (factor.errorDf < FEWEST_ERROR_DF) return 'weak';
  // Figures that are the same on paper must not differ by a rounding.
  if (detectable !== null && wanted !== null && detectable > wanted * (1 + 1e-9)) return 'weak';
  return factor.errorDf >= MANY_ERROR_DF ? 'strong' : 'fair';
}

/** Whether the first is a worse grade than the second. */
export const isWorse = (one: Grade, other: Grade): boolean =>
  grades.indexOf(one) < grades.indexOf(other);
