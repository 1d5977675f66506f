import { addShared, blockMatrix, powers, timesBlock, timesShared } from './ar1-grid';
import { ar1Normal, type Ar1Data, type Ar1Point } from './ar1-point';
import { inverseFromCholesky, inverseOf } from './cholesky';
import { addScaled, dot, timesTransposed, transposed } from './linalg';

/**
 * Order of the variance parameters in gradients and curvatures: spatial variance, row
 * correlation, column correlation, nugget, then the variance of each random unit.
 */
export const SPATIAL_PARAMETERS = 4;

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

/**
 * First and second derivatives of −2 log L in spatial variance, row correlation, column
 * correlation, nugget and unit variances, V = s·Σ + g·I + Σ v_k Z_kZ_kᵀ (Gilmour, Thompson & Cullis 1995 for the
 * average information).
 */
export function ar1Curvature(data: Ar1Data, point: Ar1Point, exact: boolean): Ar1Curvature {
  const normal = ar1Normal(data, point.shape);
  if (normal === null) throw new Error('autoregressive model: singular correlation');
  const { grid, design } = data;
  const { rank, n } = design;
  const parameters = SPATIAL_PARAMETERS + point.shape.unitRatios.length;
  const { total, beta } = normal;
  const s = total * (1 - point.shape.nuggetShare);
  const g = total * point.shape.nuggetShare;
  const phi = normal.phi.map((value) => value * total);
  const rowPowers = powers(point.shape.rowCorrelation, grid.rowDistances);
  const columnPowers = powers(point.shape.columnCorrelation, grid.columnDistances);

  const square = (): Float64Array => new Float64Array(rank * rank);
  const first = Array.from({ length: parameters }, square);
  const second = exact ? Array.from({ length: parameters * parameters }, square) : [];
  const bend = exact ? Array.from({ length: parameters * parameters }, square) : [];
  const traces = new Float64Array(parameters);
  const pairTraces = new Float64Array(parameters * parameters);
  const bendTraces = new Float64Array(parameters * parameters);
  const bendSquares = new Float64Array(parameters * parameters);
  const squares = new Float64Array(parameters);
  // P q_i needs QᵀV⁻¹q_i of all blocks: the products are kept until then.
  const working = new Float64Array(parameters * parameters);
  const reach = new Float64Array(parameters * rank);
  const weighted = new Float64Array(n);

  for (const { block, factor } of normal.blocks) {
    const size = block.rows.length;
    const inverse = inverseFromCholesky(factor, size);
    for (let i = 0; i < inverse.length; i++) inverse[i] = (inverse[i] ?? 0) / total;
    const part = (order: number, other: number, scale: number): Float64Array => {
      const out = blockMatrix(
        block,
        rowPowers[order] ?? new Float64Array(0),
        columnPowers[other] ?? new Float64Array(0),
      );
      if (scale !== 1) for (let i = 0; i < out.length; i++) out[i] = scale * (out[i] ?? 0);
      return out;
    };
    const partTimes = (
      matrix: Float64Array,
      count: number,
      order: number,
      other: number,
      scale: number,
    ): Float64Array => {
      const rowFactor = (rowPowers[order] ?? new Float64Array(0)).map((value) => scale * value);
      const columnFactor = columnPowers[other] ?? new Float64Array(0);
      return timesBlock(matrix, count, block, rowFactor, columnFactor);
    };
    const identity = new Float64Array(size * size);
    for (let i = 0; i < size; i++) identity[i * size + i] = 1;
    const shared = block.codes.map((codes) => {
      const out = new Float64Array(size * size);
      addShared(out, codes, 1);
      return out;
    });
    const slopes = [part(0, 0, 1), part(1, 0, s), part(0, 1, s), identity, ...shared];
    /** `count` rows of the block's length times every slope. */
    const timesSlopes = (matrix: Float64Array, count: number): Float64Array[] => [
      partTimes(matrix, count, 0, 0, 1),
      partTimes(matrix, count, 1, 0, s),
      partTimes(matrix, count, 0, 1, s),
      matrix,
      ...block.codes.map((codes) => timesShared(matrix, count, codes)),
    ];

    const members = new Float64Array(rank * size);
    const rest = new Float64Array(size);
    block.rows.forEach((row, i) => {
      let fit = 0;
      for (let k = 0; k < rank; k++) {
        const value = data.basis[k * n + row] ?? 0;
        members[k * size + i] = value;
        fit += value * (beta[k] ?? 0);
      }
      rest[i] = (data.y[row] ?? 0) - fit;
    });
    const u = timesTransposed(members, rank, inverse, size, size);
    const own = timesTransposed(rest, 1, inverse, size, size);
    block.rows.forEach((row, i) => {
      weighted[row] = own[i] ?? 0;
    });

    const through = timesSlopes(u, rank);
    const pushed = timesSlopes(own, 1);
    const pulled = pushed.map((q) => timesTransposed(q, 1, inverse, size, size));
    slopes.forEach((slope, i) => {
      traces[i] = (traces[i] ?? 0) + dot(inverse, 0, slope, 0, slope.length);
      const q = pushed[i] ?? rest;
      squares[i] = (squares[i] ?? 0) + dot(own, 0, q, 0, size);
      const v = through[i] ?? u;
      addScaled(first[i] ?? u, 0, 1, timesTransposed(u, rank, v, rank, size), 0, rank * rank);
      for (let k = 0; k < rank; k++) {
        reach[i * rank + k] = (reach[i * rank + k] ?? 0) + dot(u, k * size, q, 0, size);
      }
      for (let j = 0; j < parameters; j++) {
        working[i * parameters + j] =
          (working[i * parameters + j] ?? 0) + dot(q, 0, pulled[j] ?? q, 0, size);
      }
    });
    if (!exact) continue;

    // V⁻¹V_i; that of the spatial variance follows from V = sΣ + gI + Σ v_k Z_kZ_kᵀ.
    const unitTurns = block.codes.map((codes) => timesShared(inverse, size, codes));
    const spatialTurn = inverse.map((value, i) => (i % (size + 1) === 0 ? 1 : 0) - g * value);
    unitTurns.forEach((turn, k) => {
      const variance = total * (point.shape.unitRatios[k] ?? 0);
      addScaled(spatialTurn, 0, -variance, turn, 0, turn.length);
    });
    const turned = [
      spatialTurn.map((value) => value / s),
      partTimes(inverse, size, 1, 0, s),
      partTimes(inverse, size, 0, 1, s),
      inverse,
      ...unitTurns,
    ];
    const solved = through.map((v) => timesTransposed(v, rank, inverse, size, size));
    const bends = new Map<number, [number, number, number]>([
      [1, [1, 0, 1]],
      [2, [0, 1, 1]],
      [parameters + 1, [2, 0, s]],
      [parameters + 2, [1, 1, s]],
      [2 * parameters + 2, [0, 2, s]],
    ]);
    for (let i = 0; i < parameters; i++) {
      const left = turned[i] ?? inverse;
      for (let j = i; j < parameters; j++) {
        const right = turned[j] ?? inverse;
        let trace = 0;
        for (let a = 0; a < size; a++) {
          for (let b = 0; b < size; b++)
            trace += (left[a * size + b] ?? 0) * (right[b * size + a] ?? 0);
        }
        const at = i * parameters + j;
        pairTraces[at] = (pairTraces[at] ?? 0) + trace;
        const product = timesTransposed(through[i] ?? u, rank, solved[j] ?? u, rank, size);
        addScaled(second[at] ?? product, 0, 1, product, 0, rank * rank);
        const orders = bends.get(at);
        if (!orders) continue;
        const curved = part(...orders);
        bendTraces[at] = (bendTraces[at] ?? 0) + dot(inverse, 0, curved, 0, curved.length);
        const pushedOwn = partTimes(own, 1, ...orders);
        bendSquares[at] = (bendSquares[at] ?? 0) + dot(own, 0, pushedOwn, 0, size);
        const curvedU = partTimes(u, rank, ...orders);
        const bendProduct = timesTransposed(u, rank, curvedU, rank, size);
        addScaled(bend[at] ?? bendProduct, 0, 1, bendProduct, 0, rank * rank);
      }
    }
  }

  const traceWith = (matrix: Float64Array): number => dot(phi, 0, matrix, 0, rank * rank);
  const gradient = Float64Array.from(
    first,
    (p, i) => (traces[i] ?? 0) - traceWith(p) - (squares[i] ?? 0),
  );
  const average = new Float64Array(parameters * parameters);
  for (let i = 0; i < parameters; i++) {
    for (let j = 0; j < parameters; j++) {
      let lost = 0;
      for (let k = 0; k < rank; k++) {
        lost += (reach[i * rank + k] ?? 0) * dot(phi, k * rank, reach, j * rank, rank);
      }
      average[i * parameters + j] = (working[i * parameters + j] ?? 0) - lost;
    }
  }
  let observed: Float64Array | null = null;
  let expected: Float64Array | null = null;
  if (exact) {
    observed = new Float64Array(parameters * parameters);
    expected = new Float64Array(parameters * parameters);
    const halves = first.map((p) => timesTransposed(phi, rank, p, rank, rank));
    for (let i = 0; i < parameters; i++) {
      for (let j = i; j < parameters; j++) {
        const at = i * parameters + j;
        const mirror = j * parameters + i;
        const left = halves[i] ?? phi;
        const right = halves[j] ?? phi;
        let pair = 0;
        for (let a = 0; a < rank; a++) {
          for (let b = 0; b < rank; b++)
            pair += (left[a * rank + b] ?? 0) * (right[b * rank + a] ?? 0);
        }
        const trace = (pairTraces[at] ?? 0) - 2 * traceWith(second[at] ?? phi) + pair;
        const bent = (bendTraces[at] ?? 0) - traceWith(bend[at] ?? phi) - (bendSquares[at] ?? 0);
        const seen = -trace + bent + 2 * (average[at] ?? 0);
        observed[at] = seen;
        observed[mirror] = seen;
        expected[at] = trace;
        expected[mirror] = trace;
        const swapped = second[at];
        if (i !== j && swapped) {
          second[mirror] = transposed(swapped, rank, rank);
          bend[mirror] = bend[at] ?? square();
        }
      }
    }
  }
  return { gradient, average, observed, expected, phi, beta, first, second, bend, weighted };
}

/** Inverse of the curvature over the parameters that are free; null where it is not positive. */
export function freeInverse(curvature: Float64Array, free: readonly number[]): Float64Array | null {
  const count = Math.round(Math.sqrt(curvature.length));
  const f = free.length;
  const out = new Float64Array(f * f);
  free.forEach((k, i) => {
    free.forEach((l, j) => {
      out[i * f + j] = curvature[k * count + l] ?? 0;
    });
  });
  return inverseOf(out, f);
}
