import { type GridBlock, type PositionGrid } from './grid';
import { sumsByDistance } from './gridSums';
import {
  inverseTimesSlopes,
  parameterCount,
  spatialBends,
  timesSlopes,
  timesTerm,
  tracesWithSlopes,
  traceWithTerm,
  type Ar1Variance,
} from './slopes';
import { inverseFromCholesky } from '../cholesky';
import { dotRange, timesTransposed } from '../linalg';
import { num, real } from '../../../entry';

/*
 * Sums over the independent blocks of V from which the derivatives of −2 log L are made. Q is the
 * basis of X, e = y − Xβ, so that Py = V⁻¹e, and q_i = V_iPy are the working variates of Gilmour,
 * Thompson & Cullis (1995, Biometrics 51, 1440–1450). Pairs stand at i × parameters + j.
 */
export interface FirstSums {
  /** tr V⁻¹V_i. */
  traces: Float64Array;
  /** yᵀPV_iPy. */
  squares: Float64Array;
  /** q_iᵀV⁻¹q_j. */
  working: Float64Array;
  /** QᵀV⁻¹q_i, one a row. */
  reach: Float64Array;
  /** QᵀV⁻¹V_iV⁻¹Q. */
  first: Float64Array[];
  /** V⁻¹e by the rows of the table. */
  weighted: Float64Array;
}

/** For the exact second derivatives, pairs with i ≤ j. */
export interface SecondSums {
  /** tr V⁻¹V_iV⁻¹V_j. */
  traces: Float64Array;
  /** QᵀV⁻¹V_iV⁻¹V_jV⁻¹Q. */
  second: Float64Array[];
  /** tr V⁻¹V_ij. */
  bendTraces: Float64Array;
  /** yᵀPV_ijPy. */
  bendSquares: Float64Array;
  /** QᵀV⁻¹V_ijV⁻¹Q. */
  bend: Float64Array[];
}

/** One block with what both kinds of sums need of it. */
export interface SolvedBlock {
  block: GridBlock;
  variance: Ar1Variance;
  /** Which rows of Qᵀ are not zero here; those alone are held. */
  active: Int32Array;
  inverse: BlockInverse;
  /** QᵀV⁻¹. */
  u: Float64Array;
  /** V⁻¹e. */
  own: Float64Array;
  /** QᵀV⁻¹V_i. */
  uSlopes: Float64Array[];
}

/** What rests on V over a block alone, which blocks that are alike share; each made when asked for. */
export interface BlockInverse {
  /** V⁻¹. */
  readonly v: Float64Array;
  /** tr V⁻¹V_i. */
  readonly slopeTraces: readonly number[];
  /** tr V⁻¹V_iV⁻¹V_j by pairs with i ≤ j. */
  traces(): Float64Array;
  /** tr V⁻¹V_ij, in the order of `spatialBends`. */
  bendTraces(): readonly number[];
}

/** `factor`: the Cholesky factor of V/total. */
export function blockInverse(
  grid: PositionGrid,
  block: GridBlock,
  variance: Ar1Variance,
  factor: Float64Array,
  total: number,
): BlockInverse {
  const size = block.rows.length;
  const v = inverseFromCholesky(factor, size);
  for (let i = 0; i < v.length; i++) v[i] = real(v, i) / total;
  const sums = sumsByDistance(v, block, grid);
  let traces: Float64Array | null = null;
  let bends: readonly number[] | null = null;
  const tracesOf = (): Float64Array => {
    const turned = inverseTimesSlopes(v, block, variance);
    const parameters = turned.length;
    const made = new Float64Array(parameters * parameters);
    turned.forEach((one, i) => {
      for (let j = i; j < parameters; j++) {
        made[i * parameters + j] = traceOfProduct(one, turned[j] ?? one, size);
      }
    });
    return made;
  };
  return {
    v,
    slopeTraces: tracesWithSlopes(v, sums, block, variance),
    traces: () => (traces ??= tracesOf()),
    bendTraces: () =>
      (bends ??= spatialBends(variance).map((term) => traceWithTerm(sums, variance, term))),
  };
}

/** `members`: the active rows of Qᵀ over the block; `rest`: e over the block. */
export function solveBlock(
  block: GridBlock,
  variance: Ar1Variance,
  inverse: BlockInverse,
  active: Int32Array,
  members: Float64Array,
  rest: Float64Array,
): SolvedBlock {
  const size = block.rows.length;
  const rank = active.length;
  const u = timesTransposed(members, rank, inverse.v, size, size);
  const own = timesTransposed(rest, 1, inverse.v, size, size);
  const uSlopes = timesSlopes(u, rank, block, variance);
  return { block, variance, active, inverse, u, own, uSlopes };
}

const squaresOf = (rank: number, count: number): Float64Array[] =>
  Array.from({ length: count }, () => new Float64Array(rank * rank));

export function noFirstSums(parameters: number, rank: number, n: number): FirstSums {
  return {
    traces: new Float64Array(parameters),
    squares: new Float64Array(parameters),
    working: new Float64Array(parameters * parameters),
    reach: new Float64Array(parameters * rank),
    first: squaresOf(rank, parameters),
    weighted: new Float64Array(n),
  };
}

export function noSecondSums(parameters: number, rank: number): SecondSums {
  const pairs = parameters * parameters;
  return {
    traces: new Float64Array(pairs),
    second: squaresOf(rank, pairs),
    bendTraces: new Float64Array(pairs),
    bendSquares: new Float64Array(pairs),
    bend: squaresOf(rank, pairs),
  };
}

const plus = (sums: Float64Array, at: number, value: number): void => {
  sums[at] = real(sums, at) + value;
};

/** Adds a product over the active rows to one over all. */
function addActive(sum: Float64Array | undefined, product: Float64Array, active: Int32Array): void {
  if (!sum) return;
  const rank = Math.round(Math.sqrt(sum.length));
  const count = active.length;
  active.forEach((i, at) => {
    active.forEach((j, other) => plus(sum, i * rank + j, real(product, at * count + other)));
  });
}

/** Adds what one block is to the sums of first order. */
export function addFirst(sums: FirstSums, solved: SolvedBlock): void {
  const { block, variance, active, inverse, u, own, uSlopes } = solved;
  const rank = active.length;
  const size = block.rows.length;
  block.rows.forEach((row, a) => {
    sums.weighted[row] = real(own, a);
  });
  const q = timesSlopes(own, 1, block, variance);
  const solvedQ = q.map((qi) => timesTransposed(qi, 1, inverse.v, size, size));
  const parameters = parameterCount(variance);
  q.forEach((qi, i) => {
    plus(sums.traces, i, num(inverse.slopeTraces, i));
    plus(sums.squares, i, dotRange(own, 0, qi, 0, size));
    const product = timesTransposed(u, rank, uSlopes[i] ?? u, rank, size);
    addActive(sums.first[i], product, active);
    const whole = sums.reach.length / parameters;
    active.forEach((k, at) => plus(sums.reach, i * whole + k, dotRange(u, at * size, qi, 0, size)));
    for (let j = 0; j < parameters; j++) {
      plus(sums.working, i * parameters + j, dotRange(qi, 0, solvedQ[j] ?? qi, 0, size));
    }
  });
}

/** tr AB of two matrices of `size` rows and columns. */
export function traceOfProduct(a: Float64Array, b: Float64Array, size: number): number {
  let trace = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) trace += real(a, i * size + j) * real(b, j * size + i);
  }
  return trace;
}

/** Adds what one block is to the sums of second order; costs products of V's own size. */
export function addSecond(sums: SecondSums, solved: SolvedBlock): void {
  const { block, variance, active, inverse, u, uSlopes } = solved;
  const rank = active.length;
  const size = block.rows.length;
  const parameters = parameterCount(variance);
  const traces = inverse.traces();
  // QᵀV⁻¹V_iV⁻¹.
  const uTurned = uSlopes.map((rows) => timesTransposed(rows, rank, inverse.v, size, size));
  for (let i = 0; i < parameters; i++) {
    for (let j = i; j < parameters; j++) {
      const at = i * parameters + j;
      plus(sums.traces, at, real(traces, at));
      const product = timesTransposed(uSlopes[i] ?? u, rank, uTurned[j] ?? u, rank, size);
      addActive(sums.second[at], product, active);
    }
  }
  addBends(sums, solved);
}

function addBends(
  sums: SecondSums,
  { block, variance, active, inverse, u, own }: SolvedBlock,
): void {
  const rank = active.length;
  const size = block.rows.length;
  const parameters = parameterCount(variance);
  for (const [k, term] of spatialBends(variance).entries()) {
    const at = term.i * parameters + term.j;
    plus(sums.bendTraces, at, num(inverse.bendTraces(), k));
    plus(sums.bendSquares, at, dotRange(own, 0, timesTerm(own, 1, block, variance, term), 0, size));
    const bent = timesTerm(u, rank, block, variance, term);
    const product = timesTransposed(u, rank, bent, rank, size);
    addActive(sums.bend[at], product, active);
  }
}
