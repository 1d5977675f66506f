/**
 * The F of a term under any labelling of the units, from sums that units add to one by one.
 *
 * What does not move is taken out once: the response and, through the basis Q of the fixed
 * columns that the term is adjusted for, the cross products of all that moves.
 */
export interface RandomisationStatistic {
  /** Length of the sums. */
  readonly size: number;
  /** Adds what a unit with a label contributes. */
  addUnit(sums: Float64Array, unit: number, label: number): void;
  /** F from the sums over all units; Infinity where nothing is left unexplained. */
  f(sums: Float64Array): number;
}

/** What does not move, taken out once; `d` columns move beside it. */
export interface Staying {
  /** What it leaves of the response. */
  readonly left: Float64Array;
  /** Its basis of `q` columns, row by row. */
  readonly basisRows: Float64Array;
  readonly q: number;
  readonly d: number;
}
