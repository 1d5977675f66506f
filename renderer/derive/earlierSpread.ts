import type { FindingsOutcome } from '../engine/findings';

/** The spread found in an earlier trial, as the power figures take it. */
export interface EarlierSpread {
  plantSd: number;
  /** Between the units above the plants (trays, shelves), the largest of them; 0 where there is none. */
  unitSd: number;
  /** Degrees of freedom that the spread of plants was found on. */
  df: number | null;
  response: string;
  unit: string;
}

/**
 * Spread of plants and units in the model that answers an earlier plan: what the next trial's
 * treatments will have to stand out from.
 */
export function spreadOf(outcome: FindingsOutcome): EarlierSpread | { missing: string } {
  if (!outcome.ok) return { missing: outcome.missing };
  const { primary, response } = outcome.findings;
  const { residual, variance } = primary.result;
  const plants = variance.find((part) => part.unit === 'residual')?.variance ?? residual?.ms;
  if (plants === undefined || !(plants > 0)) {
    return { missing: 'Its findings have no spread between plants.' };
  }
  // Rows and columns are places of plants, not units that carry a treatment.
  const units = variance
    .filter((part) => !['residual', 'row', 'column'].includes(part.unit))
    .map((part) => part.variance);
  return {
    plantSd: Math.sqrt(plants),
    unitSd: Math.sqrt(Math.max(0, ...units)),
    df: residual?.df ?? null,
    response: response.name,
    unit: response.unit,
  };
}
