import { inverse, Matrix as Dense } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { denseColumn } from '../../../../renderer/engine/stats/linear';
import { connected, paysApart } from '../../../../renderer/engine/stats/mixed/columnBlocks';
import { criterionAt } from '../../../../renderer/engine/stats/mixed/criterion';
import { unitColumns } from '../../../../renderer/engine/stats/mixed/fitMixed';
import { orthogonalDesign } from '../../../../renderer/engine/stats/mixed/orthogonal';
import {
  derivativeSums,
  project,
  timesProjected,
} from '../../../../renderer/engine/stats/mixed/projected';
import { reduceLayout, reduceResponse } from '../../../../renderer/engine/stats/mixed/reduced';
import { matrix } from './coding';
import { denseFit, noise, unitCovariance } from './dense';

const TRAYS = 7;

/** Rows and columns of trays of 4 × 5 pots, two pots lost; a treatment on trays, another on pots. */
function trial() {
  const kept = Array.from({ length: TRAYS * 20 }, (_, i) => i).filter((i) => i !== 8 && i !== 71);
  const tray = (i: number) => Math.floor(i / 20);
  const codes = [
    kept.map(tray),
    kept.map((i) => 4 * tray(i) + Math.floor((i % 20) / 5)),
    kept.map((i) => 5 * tray(i) + (i % 5)),
  ].map((unit) => Int32Array.from(unit));
  const x = matrix(kept.map((i) => [1, tray(i) % 2, Number(i % 3 === 1), Number(i % 3 === 2)]));
  const units = ['tray', 'row', 'column'].map((unit, k) => ({
    unit,
    codes: codes[k] ?? new Int32Array(0),
    levels: [TRAYS, 4 * TRAYS, 5 * TRAYS][k] ?? 0,
  }));
  return { x, codes, components: units.map(unitColumns), y: noise(kept.length, 11) };
}

describe('random columns that fall apart into groups', () => {
  const { x, codes, components, y } = trial();
  const n = x.rows;
  const data = reduceResponse(reduceLayout(x, orthogonalDesign(x), components), y);
  const ratios = Float64Array.of(0.7, 0, 1.3);
  const at = criterionAt(data, ratios);
  const v = unitCovariance(codes, Array.from(ratios), 1);

  it('are found, and kept apart where that is less work', () => {
    const groups = connected(components, n).map((group) => group.length);
    expect(groups).toEqual(new Array(TRAYS).fill(10));
    expect(data.blocks).toHaveLength(TRAYS);
    expect(paysApart([60, 10], 4)).toBe(true);
    expect(paysApart([60, 10], 60)).toBe(false);
    // One column over all rows ties them together.
    const rows = Int32Array.from({ length: n }, (_, i) => i);
    const mean = { name: 'all', columns: [{ rows, values: new Float64Array(n).fill(1) }] };
    expect(connected([...components, mean], n)).toHaveLength(1);
  });

  it('give the textbook criterion, profiled over the residual variance', () => {
    const residual = at.remainder / data.free;
    const dense = denseFit(x, y, Dense.mul(v, residual));
    expect(at.value).toBeCloseTo(-2 * dense.logLik, 9);
  });

  it('give the products of the textbook projection', () => {
    const X = new Dense(
      Array.from({ length: n }, (_, i) => [...x.data.subarray(4 * i, 4 * i + 4)]),
    );
    const vX = inverse(v).mmul(X);
    const p = Dense.sub(inverse(v), vX.mmul(inverse(X.transpose().mmul(vX))).mmul(vX.transpose()));
    const z = new Dense(
      components.flatMap(({ columns }) => columns.map((column) => [...denseColumn(column, n)])),
    );
    const c = z.mmul(p).mmul(z.transpose());
    const score = z.mmul(p).mmul(Dense.columnVector([...y]));
    const projected = project(data, at);
    const { q, parts } = data;
    const identity = Float64Array.from({ length: q * q }, (_, k) => Number(k % (q + 1) === 0));
    const found = timesProjected(data, projected, identity, q);
    found.forEach((value, k) => expect(value).toBeCloseTo(c.get(Math.floor(k / q), k % q), 10));
    projected.score.forEach((value, j) => expect(value).toBeCloseTo(score.get(j, 0), 10));
    const sums = derivativeSums(data, projected);
    const rangeOf = (k: number) => {
      const { start, count } = parts[k] ?? { start: 0, count: 0 };
      return Array.from({ length: count }, (_, j) => start + j);
    };
    parts.forEach((_, k) => {
      const own = rangeOf(k);
      expect(sums.traces[k]).toBeCloseTo(
        own.reduce((sum, j) => sum + c.get(j, j), 0),
        9,
      );
      parts.forEach((__, l) => {
        const block = c.selection(own, rangeOf(l));
        expect(sums.products[k * 3 + l]).toBeCloseTo(block.norm('frobenius') ** 2, 9);
        const cross = score
          .selection(own, [0])
          .transpose()
          .mmul(block)
          .mmul(score.selection(rangeOf(l), [0]));
        expect(sums.crossed[k * 3 + l]).toBeCloseTo(cross.get(0, 0), 9);
      });
    });
  });
});
