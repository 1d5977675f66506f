import { expect, it } from 'vitest';
import { positionGridOf } from '../../../../../renderer/engine/stats/mixed/ar1/grid';
import { sumsByDistance } from '../../../../../renderer/engine/stats/mixed/ar1/gridSums';
import {
  ar1Variance,
  inverseTimesSlopes,
  spatialBends,
  timesSlopes,
  timesTerm,
  tracesWithSlopes,
  traceWithTerm,
} from '../../../../../renderer/engine/stats/mixed/ar1/slopes';
import { inverseOf } from '../../../../../renderer/engine/stats/mixed/cholesky';
import { timesTransposed } from '../../../../../renderer/engine/stats/mixed/linalg';

// 4 rows of 5 pots with one place empty; pairs of columns share a unit.
const places = Array.from({ length: 20 }, (_, i) => [Math.floor(i / 5), i % 5] as const).filter(
  (_, i) => i !== 7,
);
const n = places.length;
const codes = Int32Array.from(places, ([, column]) => Math.floor(column / 2));
const grid = positionGridOf(
  Float64Array.from(places, ([row]) => row),
  Float64Array.from(places, ([, column]) => column),
  new Int32Array(n),
  [{ unit: 'pair', codes, levels: 3 }],
);

/** V written out from its definition. */
function dense(s: number, rowRho: number, columnRho: number, g: number, v: number): Float64Array {
  const out = new Float64Array(n * n);
  places.forEach(([r, c], a) => {
    places.forEach(([r2, c2], b) => {
      out[a * n + b] =
        s * rowRho ** Math.abs(r - r2) * columnRho ** Math.abs(c - c2) +
        (a === b ? g : 0) +
        (codes[a] === codes[b] ? v : 0);
    });
  });
  return out;
}

const at = [1.2, 0.6, 0.4, 0.3, 0.15] as const;
const [s, rowCorrelation, columnCorrelation, g, v] = at;
const total = s + g;
const shape = {
  rowCorrelation,
  columnCorrelation,
  nuggetShare: g / total,
  unitRatios: [v / total],
};
const variance = ar1Variance(grid, shape, total);
const [block] = grid.blocks;
if (!block) throw new Error('all pots share one group');

const denseAt = ([a = NaN, b = NaN, c = NaN, d = NaN, e = NaN]: readonly number[]) =>
  dense(a, b, c, d, e);

/** The central difference of a matrix in one parameter. */
function slopeOf(
  matrix: (at: readonly number[]) => Float64Array,
  k: number,
  where: readonly number[] = at,
): Float64Array {
  const step = 1e-4;
  const moved = (by: number) => matrix(where.map((value, i) => (i === k ? value + by : value)));
  const [up, down] = [moved(step), moved(-step)];
  return up.map((value, i) => (value - (down[i] ?? NaN)) / (2 * step));
}

function expectClose(found: Float64Array | undefined, expected: Float64Array, digits: number) {
  expect(found).toHaveLength(expected.length);
  expected.forEach((value, i) => expect(found?.[i]).toBeCloseTo(value, digits));
}

/** tr AB of two symmetric matrices. */
const traceWith = (a: Float64Array, b: Float64Array): number =>
  a.reduce((sum, value, i) => sum + value * (b[i] ?? NaN), 0);

const symmetric = Float64Array.from(
  { length: n * n },
  (_, i) => Math.cos(Math.floor(i / n)) * Math.cos(i % n),
);
const sums = sumsByDistance(symmetric, block, grid);

it('gives rows and traces times the slope of V in every parameter', () => {
  const rows = Float64Array.from({ length: 2 * n }, (_, i) => Math.sin(i));
  const times = timesSlopes(rows, 2, block, variance);
  const traces = tracesWithSlopes(symmetric, sums, block, variance);
  at.forEach((_, k) => {
    const slope = slopeOf(denseAt, k);
    expectClose(times[k], timesTransposed(rows, 2, slope, n, n), 6);
    expect(traces[k]).toBeCloseTo(traceWith(symmetric, slope), 6);
  });
  expect(times).toHaveLength(at.length);
  expect(traces).toHaveLength(at.length);
});

it('gives rows and traces times the second derivatives of V that are not zero', () => {
  const rows = Float64Array.from({ length: 2 * n }, (_, i) => Math.sin(i));
  for (const term of spatialBends(variance)) {
    const bend = slopeOf((where) => slopeOf(denseAt, term.i, where), term.j);
    expectClose(timesTerm(rows, 2, block, variance, term), timesTransposed(rows, 2, bend, n, n), 4);
    expect(traceWithTerm(sums, variance, term)).toBeCloseTo(traceWith(symmetric, bend), 4);
  }
});

it('gives the inverse of V times every slope', () => {
  const inverse = inverseOf(denseAt(at), n);
  if (!inverse) throw new Error('V is positive definite');
  const found = inverseTimesSlopes(inverse, block, variance);
  at.forEach((_, k) => {
    expectClose(found[k], timesTransposed(inverse, n, slopeOf(denseAt, k), n, n), 5);
  });
});
