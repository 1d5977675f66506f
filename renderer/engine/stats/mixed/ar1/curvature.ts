import { activeRows, ar1Normal, type Ar1Data, type Ar1Normal, type Ar1Point } from './point';
import { ar1Variance, parameterCount, type Ar1Variance } from './slopes';
import {
  addFirst,
  addSecond,
  blockInverse,
  noFirstSums,
  noSecondSums,
  solveBlock,
  traceOfProduct,
  type BlockInverse,
  type FirstSums,
  type SecondSums,
  type SolvedBlock,
} from './sums';
import { inverseOf } from '../cholesky';
import { addScaled, dotRange, timesTransposed, transposed } from '../linalg';
import { Refusal } from '../../../../words';
import { real } from '../../../entry';

/** Derivatives of −2 log L in the parameters κ of `SPATIAL_PARAMETERS`. */
export interface Ar1Curvature {
  gradient: Float64Array;
  /** Mean of observed and expected: cheap, never negative. */
  average: Float64Array;
  /** Only where asked for: both cost products of n × n matrices. */
  observed: Float64Array | null;
  expected: Float64Array | null;
  /** In the basis Q, for Φ = (QᵀV⁻¹Q)⁻¹. */
  phi: Float64Array;
  beta: Float64Array;
  /** QᵀV⁻¹V_iV⁻¹Q. */
  first: Float64Array[];
  /** QᵀV⁻¹V_iV⁻¹V_jV⁻¹Q and QᵀV⁻¹V_ijV⁻¹Q by i × parameters + j; empty unless asked for. */
  second: Float64Array[];
  bend: Float64Array[];
  /** V⁻¹(y − Xβ), one a row of the table. */
  weighted: Float64Array;
}

/** Every independent block of V, solved; the factors of the normal equations are those of V/total. */
function solvedBlocks(data: Ar1Data, normal: Ar1Normal, variance: Ar1Variance): SolvedBlock[] {
  const known = new Map<Float64Array, BlockInverse>();
  return normal.blocks.map(({ block, active, factor }) => {
    const size = block.rows.length;
    const inverse =
      known.get(factor) ?? blockInverse(data.grid, block, variance, factor, normal.total);
    known.set(factor, inverse);
    const members = activeRows(data, block, active);
    const rest = Float64Array.from(block.rows, (row) => real(data.y, row));
    active.forEach((k, own) =>
      addScaled(rest, 0, -real(normal.beta, k), members, own * size, size),
    );
    return solveBlock(block, variance, inverse, active, members, rest);
  });
}

/** ∂(−2 log L)/∂κ_i = tr PV_i − yᵀPV_iPy, with P = V⁻¹ − V⁻¹QΦQᵀV⁻¹. */
function gradientOf({ first, traces, squares }: FirstSums, phi: Float64Array): Float64Array {
  return Float64Array.from(
    first,
    (p, i) => real(traces, i) - dotRange(phi, 0, p, 0, phi.length) - real(squares, i),
  );
}

/** The average information q_iᵀPq_j (Gilmour, Thompson & Cullis 1995). */
function averageOf(
  { working, reach, traces }: FirstSums,
  phi: Float64Array,
  rank: number,
): Float64Array {
  const parameters = traces.length;
  return working.map((own, at) => {
    const [i, j] = [Math.floor(at / parameters), at % parameters];
    let lost = 0;
    for (let k = 0; k < rank; k++) {
      lost += real(reach, i * rank + k) * dotRange(phi, k * rank, reach, j * rank, rank);
    }
    return own - lost;
  });
}

/**
 * Expected information tr PV_iPV_j, and the observed
 * −tr PV_iPV_j + 2yᵀPV_iPV_jPy + tr PV_ij − yᵀPV_ijPy. Fills the pairs i > j of the sums, too.
 */
function secondDerivatives(
  sums: SecondSums,
  first: readonly Float64Array[],
  average: Float64Array,
  phi: Float64Array,
  rank: number,
): { observed: Float64Array; expected: Float64Array } {
  const parameters = first.length;
  const observed = new Float64Array(parameters * parameters);
  const expected = new Float64Array(parameters * parameters);
  const traceWith = (matrix = phi): number => dotRange(phi, 0, matrix, 0, rank * rank);
  const halves = first.map((p) => timesTransposed(phi, rank, p, rank, rank));
  for (let i = 0; i < parameters; i++) {
    for (let j = i; j < parameters; j++) {
      const at = i * parameters + j;
      const mirror = j * parameters + i;
      const [second = phi, bend = phi] = [sums.second[at], sums.bend[at]];
      const both = traceOfProduct(halves[i] ?? phi, halves[j] ?? phi, rank);
      const trace = real(sums.traces, at) - 2 * traceWith(second) + both;
      const bent = real(sums.bendTraces, at) - traceWith(bend) - real(sums.bendSquares, at);
      expected[at] = expected[mirror] = trace;
      observed[at] = observed[mirror] = -trace + bent + 2 * real(average, at);
      if (i === j) continue;
      sums.second[mirror] = transposed(second, rank, rank);
      sums.bend[mirror] = bend;
    }
  }
  return { observed, expected };
}

/**
 * First and second derivatives of −2 log L in the parameters of V (Gilmour, Thompson & Cullis 1995
 * for the average information). `exact`: the observed and the expected information, too. Throws
 * where V is singular.
 */
export function ar1Curvature(data: Ar1Data, point: Ar1Point, exact: boolean): Ar1Curvature {
  const normal = ar1Normal(data, point.shape);
  if (normal === null) throw new Refusal('autoregressive model: singular correlation');
  const { rank, n } = data.design;
  const { total, beta } = normal;
  const variance = ar1Variance(data.grid, point.shape, total);
  const parameters = parameterCount(variance);
  const phi = normal.phi.map((value) => value * total);
  const sums = noFirstSums(parameters, rank, n);
  const further = exact ? noSecondSums(parameters, rank) : null;
  for (const solved of solvedBlocks(data, normal, variance)) {
    addFirst(sums, solved);
    if (further) addSecond(further, solved);
  }
  const { first, weighted } = sums;
  const gradient = gradientOf(sums, phi);
  const average = averageOf(sums, phi, rank);
  const shared = { gradient, average, phi, beta, first, weighted };
  if (!further) return { ...shared, observed: null, expected: null, second: [], bend: [] };
  const { second, bend } = further;
  return { ...shared, ...secondDerivatives(further, first, average, phi, rank), second, bend };
}

/** Inverse of the curvature over the parameters that are free; null where it is not positive. */
export function freeInverse(curvature: Float64Array, free: readonly number[]): Float64Array | null {
  const count = Math.round(Math.sqrt(curvature.length));
  const f = free.length;
  const out = new Float64Array(f * f);
  free.forEach((k, i) => {
    free.forEach((l, j) => {
      out[i * f + j] = real(curvature, k * count + l);
    });
  });
  return inverseOf(out, f);
}
