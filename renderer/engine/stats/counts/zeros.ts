import { factorise, isEstimable } from '../linear';
import type { CountFamily } from './families';
import { fitIrls } from './irls';
import type { CountsCore, CountsInput } from './irls';
import { real } from '../../entry';

/** A fitted mean below this is on its way to zero. */
const VANISHING = 1e-6;

/** What is left of a fit whose mean runs to zero where all counts are zero. */
export interface FinitePart {
  /** Fit of the rows that still say how counts vary. */
  readonly core: CountsCore;
  readonly y: Float64Array;
  /** The other rows, by index. */
  readonly onlyZeros: readonly number[];
  /** Whether a combination of coefficients has a finite estimate. */
  holds(weights: Float64Array): boolean;
}

/**
 * Where a combination of levels has only zero counts, its log mean has no finite estimate. The
 * other rows determine all that is finite: a combination of coefficients is finite exactly when they
 * alone can estimate it. Small means that the other rows imply are no such case.
 */
export function finitePart(
  input: CountsInput,
  family: CountFamily,
  core: CountsCore,
  polish: number,
): FinitePart {
  const { x, y, offset } = input;
  const whole: FinitePart = { core, y, onlyZeros: [], holds: () => true };
  const rows = Array.from(core.mu.keys());
  const onlyZeros = rows.filter((i) => (core.mu[i] ?? 1) < VANISHING);
  if (onlyZeros.length === 0) return whole;
  const counted = rows.filter((i) => (core.mu[i] ?? 1) >= VANISHING);
  const p = x.columns;
  const data = new Float64Array(counted.length * p);
  counted.forEach((row, i) => {
    data.set(x.data.subarray(row * p, (row + 1) * p), i * p);
  });
  const part = { rows: counted.length, columns: p, data };
  if (factorise(part).rank === core.space.rank) return whole;
  const pick = (values: Float64Array): Float64Array =>
    Float64Array.from(counted, (i) => real(values, i));
  const partInput = { x: part, y: pick(y), ...(offset ? { offset: pick(offset) } : {}) };
  const rest = fitIrls(partInput, family, polish);
  return {
    core: rest,
    y: partInput.y,
    onlyZeros,
    holds: (weights) => isEstimable(rest.space, weights),
  };
}
