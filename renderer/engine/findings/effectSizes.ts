import type { ComparisonRow, FitResult, TermRow } from '../../../shared-types/fit';
import { isRatio, type ResponseScale } from './scale';

/**
 * Share of the variation that a term explains of what it and its error make up: partial
 * η² = df F / (df F + error df) (Cohen 1973). null where the term has no F on finite df.
 */
export function partialEtaSquared(term: TermRow): number | null {
  if (term.kind !== 'F' || term.statistic === null || term.dfError === null) return null;
  const explained = term.df * term.statistic;
  return explained / (explained + term.dfError);
}

/** A difference in other measures than the response's own unit. */
export interface EffectSize {
  /** Over the standard deviation among pots treated alike; null where that is not estimated. */
  standardised: number | null;
  /** In per cent of the second mean; null where that is not positive. */
  percent: number | null;
}

/**
 * `result` must be the fit that the row comes from, on the scale named. The standard deviation is the residual one: pots
 * treated alike in one unit, position and covariates allowed for.
 */
export function effectSize(
  result: FitResult,
  of: string,
  row: ComparisonRow,
  scale: ResponseScale = null,
): EffectSize {
  const variance =
    result.residual?.ms ?? result.variance.find((v) => v.unit === 'residual')?.variance ?? 0;
  const ratio = isRatio(scale) ? Math.exp(row.difference) : null;
  const base = result.means
    .find((m) => m.of.length === 1 && m.of[0] === of)
    ?.rows.find((r) => String(r[of]) === row.b)?.mean;
  return {
    standardised: variance > 0 ? row.difference / Math.sqrt(variance) : null,
    percent:
      ratio !== null
        ? 100 * (ratio - 1)
        : scale === null && base !== undefined && base > 0
          ? (100 * row.difference) / base
          : null,
  };
}
