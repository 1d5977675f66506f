import type { Profile } from '../model';
import type { CountFamily } from './families';
import { fitIrls } from './irls';
import type { CountsInput } from './irls';
import { num, real } from '../../entry';

/** A limit farther off than this many doublings of the reach is none. */
const MOST_DOUBLINGS = 12;

interface Fitted {
  readonly input: CountsInput;
  readonly family: CountFamily;
  readonly polish: number;
  readonly kept: readonly number[];
  readonly deviance: number;
  /** What deviances are divided by. */
  readonly scale: number;
  readonly df: number;
}

/**
 * Profile likelihood of one combination wᵀβ (Venzon & Moolgavkar 1988, Applied Statistics 37, 87–94):
 * the signed root of the deviance that holding wᵀβ at a value costs, over the dispersion. Its test at
 * 0 is the likelihood ratio; its limits are where the root reaches a quantile, so that test and
 * interval agree. θ is held, as in the tests of terms.
 */
export function profileOf(
  fitted: Fitted,
  weights: Float64Array,
  estimate: number,
  se: number,
): Profile {
  const cost = devianceHeldAt(fitted, weights);
  const root = (value: number): number => {
    const size = Math.sqrt(Math.max(cost(value) - fitted.deviance, 0) / fitted.scale);
    return value < estimate ? size : -size;
  };
  return {
    df: fitted.df,
    root: root(0),
    limit(reach, side) {
      if (!(reach > 0)) return estimate;
      const excess = (step: number): number => Math.abs(root(estimate + side * step)) - reach;
      return estimate + side * zeroOf(excess, reach, se);
    },
  };
}

/** The deviance with wᵀβ held at a value. */
function devianceHeldAt(
  { input, family, polish, kept }: Fitted,
  weights: Float64Array,
): (value: number) => number {
  const { x, y } = input;
  const n = x.rows;
  const pivot = kept.reduce(
    (best, j) => (Math.abs(real(weights, j)) > Math.abs(real(weights, best)) ? j : best),
    num(kept, 0),
  );
  const own = weights[pivot] ?? 1;
  const others = kept.filter((j) => j !== pivot);
  // β_pivot = (value − Σ w_j β_j) / w_pivot: the other columns take up its part, the rest is known.
  const data = new Float64Array(n * others.length);
  for (let i = 0; i < n; i++) {
    const held = real(x.data, i * x.columns + pivot) / own;
    others.forEach((j, k) => {
      data[i * others.length + k] = real(x.data, i * x.columns + j) - held * real(weights, j);
    });
  }
  const without = { rows: n, columns: others.length, data };
  return (value) => {
    const offset = Float64Array.from(
      { length: n },
      (_, i) => (input.offset?.[i] ?? 0) + (real(x.data, i * x.columns + pivot) / own) * value,
    );
    return fitIrls({ x: without, y, offset }, family, polish).deviance;
  };
}

/** The step at which `excess`, −reach at 0, comes to 0; Infinity where it is far off or nowhere. */
function zeroOf(excess: (step: number) => number, reach: number, se: number): number {
  let low = 0;
  let atLow = -reach;
  let high = reach * se;
  let atHigh = excess(high);
  for (let k = 0; atHigh < 0; k++) {
    if (k === MOST_DOUBLINGS) return Infinity;
    [low, atLow, high] = [high, atHigh, 2 * high];
    atHigh = excess(high);
  }
  // Regula falsi, the end that stays being halved (the Illinois rule).
  let last = 0;
  for (let k = 0; k < 60 && high - low > 1e-11 * high; k++) {
    const middle = (low * atHigh - high * atLow) / (atHigh - atLow);
    const at = excess(middle);
    if (Math.abs(at) < 1e-12 * reach) return middle;
    if (at > 0) {
      [high, atHigh] = [middle, at];
      if (last === 1) atLow /= 2;
      last = 1;
    } else {
      [low, atLow] = [middle, at];
      if (last === -1) atHigh /= 2;
      last = -1;
    }
  }
  return (low + high) / 2;
}
