import type { UnitCodes } from '../design';
import type { AdjustedSpace } from './space';
import type { ErrorTerm } from './structure';

/** A mean square between units (or of what is left), on its own df. */
export interface MeanSquare {
  readonly unit: string;
  readonly df: number;
  readonly ss: number;
  /** NaN without df. */
  readonly ms: number;
}

/** Least squares under any set of units beside the fixed part; each computed once. */
export interface Spaces {
  of(units: readonly UnitCodes[]): AdjustedSpace;
  meanSquare(error: ErrorTerm): MeanSquare;
}
