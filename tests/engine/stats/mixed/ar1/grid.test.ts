import { expect, it } from 'vitest';
import { positionGridOf } from '../../../../../renderer/engine/stats/mixed/ar1/grid';
import {
  blockMatrix,
  powers,
  timesBlock,
  timesShared,
} from '../../../../../renderer/engine/stats/mixed/ar1/gridSums';
import { timesTransposed } from '../../../../../renderer/engine/stats/mixed/linalg';

// The way over the lattice of rows and columns against the product with the matrix written out.
it.each([
  ['full', () => true],
  ['with holes', (i: number) => i % 7 !== 3],
])('multiplies a %s lattice as the matrix itself does', (_, stands) => {
  const pots = Array.from({ length: 90 }, (_, i) => i).filter(stands);
  // Rows 2.5 apart, and two pots in the place of the last one.
  const row = Float64Array.from([...pots, 89], (i) => 2.5 * Math.floor(i / 9));
  const column = Float64Array.from([...pots, 89], (i) => i % 9);
  const n = row.length;
  const { blocks, rowDistances, columnDistances } = positionGridOf(row, column, new Int32Array(n));
  const block = blocks[0];
  if (!block) throw new Error('expected one block');
  const rowFactor = powers(0.7, rowDistances)[1] ?? new Float64Array(0);
  const columnFactor = powers(-0.4, columnDistances)[0] ?? new Float64Array(0);
  const matrix = Float64Array.from({ length: 3 * n }, (_, i) => Math.sin(i));
  const whole = blockMatrix(block, rowFactor, columnFactor);
  const wanted = timesTransposed(matrix, 3, whole, n, n);
  timesBlock(matrix, 3, block, rowFactor, columnFactor).forEach((value, i) => {
    expect(value).toBeCloseTo(wanted[i] ?? NaN, 12);
  });
});

it('adds what pots of one level share', () => {
  const shared = timesShared(Float64Array.of(1, 2, 4, 8, 16, 32), 2, Int32Array.of(0, 1, 0));
  expect([...shared]).toEqual([5, 2, 5, 40, 16, 40]);
});
