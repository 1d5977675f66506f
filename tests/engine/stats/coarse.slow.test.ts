import { describe, expect, it } from 'vitest';
import { buildDesign } from '../../../renderer/engine/stats/design';
import { coarseUntreated, fit, layoutTests } from '../../../renderer/engine/stats/fit';
import { factorise, mean, selectColumns } from '../../../renderer/engine/stats/linear';
import {
  choleskyInPlace,
  logDeterminant,
  solveLowerRows,
} from '../../../renderer/engine/stats/mixed/cholesky';
import { untreatedProjection } from '../../../renderer/engine/stats/randomisation';
import { projection as denseProjection } from '../../../renderer/engine/stats/randomisation/gls/projection';
import {
  denseCovariance,
  denseTrends,
} from '../../../renderer/engine/stats/randomisation/covariance';
import type { Allocation, KnownCovariance } from '../../../renderer/engine/stats/randomisation';
import { shuffle, stream } from '../../../renderer/engine/trial/stream';
import { fitRequestSchema } from '../../../shared-types/fit';

/** Four trays of 4 × 6 pots with a cultivar shuffled in each, over a wave of place; some plants dead. */
function harvest(seed: string, dead: number) {
  const random = stream(seed, 'place');
  const n = 96;
  const tray = (i: number) => Math.floor(i / 24);
  const row = (i: number) => 1 + Math.floor((i % 24) / 6);
  const column = (i: number) => 1 + (i % 6);
  const phase = Array.from({ length: 4 }, () => 6 * random.fraction());
  const labels = phase.flatMap(() => [
    ...shuffle(
      Int32Array.from({ length: 24 }, (_, k) => k % 3),
      random,
    ),
  ]);
  const y = Array.from({ length: n }, (_, i) => {
    const wave = 1.2 * Math.sin(column(i) / 2 + row(i) / 3 + (phase[tray(i)] ?? 0));
    return wave + random.normal() + 0.5 * Number(labels[i] === 2);
  });
  const rows = Array.from({ length: n }, (_, i) => i);
  const alive = rows.map(() => random.fraction() >= dead);
  const columns = {
    tray: rows.map((i) => `t${tray(i)}`),
    row: rows.map(row),
    column: rows.map(column),
    cultivar: labels.map((label) => `c${label}`),
    y: rows.map((i) => (alive[i] ? (y[i] ?? 0) : null)),
  };
  return { table: { columns, rowCount: n }, labels, tray };
}

const requestWith = (model: string, treatments: string[]) =>
  fitRequestSchema.parse({
    response: 'y',
    treatments,
    fixedBlocks: ['tray'],
    position: { row: 'row', column: 'column', within: ['tray'], model },
    tests: 'marginal',
    denominator: 'units',
  });

/** −½[(n−p) log 2πσ² + log|V| + log|XᵀV⁻¹X| + rᵀV⁻¹r/σ²], σ² at its best: REML by the dense formula. */
function restrictedLogLik(
  covariance: KnownCovariance,
  x: readonly Float64Array[],
  y: Float64Array,
): number {
  const n = y.length;
  const trends = denseTrends(covariance, n);
  const factor = denseCovariance(covariance, n);
  expect(choleskyInPlace(factor, n)).toBe(true);
  const all = [...x, ...trends];
  const white = new Float64Array((all.length + 1) * n);
  [...all, y].forEach((column, j) => white.set(column, j * n));
  solveLowerRows(factor, n, white, all.length + 1);
  const data = Float64Array.from({ length: n * all.length }, (_, k) => {
    const [i, j] = [Math.floor(k / all.length), k % all.length];
    return white[j * n + i] ?? 0;
  });
  const qr = factorise({ rows: n, columns: all.length, data });
  const left = white.slice(all.length * n);
  qr.applyQt(left);
  const rest = left.slice(qr.rank).reduce((sum, value) => sum + value * value, 0);
  let logGram = 0;
  for (let k = 0; k < qr.rank; k++) {
    const unit = new Float64Array(qr.rank);
    unit[k] = 1;
    logGram -= 2 * Math.log(Math.abs(qr.solveUpper(unit)[k] ?? 1));
  }
  const free = n - qr.rank;
  return (
    -0.5 *
    (free * (Math.log((2 * Math.PI * rest) / free) + 1) + logDeterminant(factor, n) + logGram)
  );
}

describe.each(['ar1', 'smooth'])('a coarse choice of the variances of %s', (model) => {
  it.each([0, 0.1])('projects as its covariance does, a share of %d lost', (dead) => {
    const { table } = harvest('projects', dead);
    const request = requestWith(model, ['cultivar']);
    const design = buildDesign(request, table);
    const { projection, covariance } = coarseUntreated(request, table)?.(design)(design.y) ?? {};
    if (!projection || !covariance) throw new Error('the request has a covariance');
    // Over all rows at once, by the Cholesky factor of V and the QR of L⁻¹X.
    const kept = design.columns.flatMap(({ levels }, j) => (levels.has('cultivar') ? [] : [j]));
    const centre = mean(design.y);
    const dense = denseProjection(
      covariance(),
      selectColumns(design.x, kept),
      design.y.map((value) => value - centre),
    );
    for (const found of [projection, untreatedProjection(design, covariance())]) {
      expect(found.rank).toBe(dense.rank);
      const n = design.y.length;
      for (let j = 0; j < n; j++) {
        const column = found.times(new Float64Array(n).fill(1, j, j + 1));
        column.forEach((value, i) => expect(value).toBeCloseTo(dense.p[i * n + j] ?? NaN, 8));
      }
      dense.py.forEach((value, k) => expect(found.py[k]).toBeCloseTo(value, 8));
    }
  });

  it.each([true, false])('finds what its p says, drawn anew by a scheme or not: %s', (byScheme) => {
    for (const [effect, set] of [0, 0.4, 0.8, 1.6].entries()) {
      const { table, labels, tray } = harvest(`finds ${set}`, 0.05);
      const request = requestWith(model, ['cultivar']);
      const levels = labels.map((label) => [`c${label}`]);
      const random = stream('layouts', model);
      const trays = [0, 1, 2, 3].map((t) => labels.slice(24 * t, 24 * t + 24));
      const allocation: Allocation = {
        factors: ['cultivar'],
        runs: 199,
        seed: 'finds',
        within: 'tray',
        levels,
        groups: Int32Array.from(labels, (_, i) => tray(i)),
        anew: byScheme
          ? () => ({
              combinations: [['c0'], ['c1'], ['c2']],
              codes: Int32Array.from(trays.flatMap((own) => [...shuffle(own.slice(), random)])),
            })
          : null,
      };
      const { rowIndex, tests } = layoutTests(
        request,
        table,
        allocation,
        coarseUntreated(request, table),
      );
      const y = Float64Array.from(
        rowIndex,
        (row) => Number(table.columns.y[row]) + effect * Number(labels[row] === 1),
      );
      const p = tests.at(-1)?.p(y) ?? NaN;
      for (const alpha of [0.02, 0.05, 0.3, p, p + 1e-9]) {
        // A list of its own, so that nothing is kept from the p.
        expect(tests.at(-1)?.finds(y.slice(), alpha)).toBe(p < alpha);
      }
    }
  });

  it('looks at all layouts where many of them are one and the same', () => {
    const { table, labels, tray } = harvest('alike', 0);
    const request = requestWith(model, ['cultivar']);
    const turned = labels.map((label) => (label + 1) % 3);
    const allocation: Allocation = {
      factors: ['cultivar'],
      runs: 99,
      seed: 'alike',
      within: 'tray',
      groups: Int32Array.from(labels, (_, i) => tray(i)),
      levels: labels.map((label) => [`c${label}`]),
      anew: (run) => ({
        combinations: [['c0'], ['c1'], ['c2']],
        codes: Int32Array.from(run % 2 ? labels : turned),
      }),
    };
    const { tests } = layoutTests(request, table, allocation, coarseUntreated(request, table));
    const y = buildDesign(request, table).y;
    // No layout can ever be rarer than all of them, so that the model's own test stands in.
    expect(tests.at(-1)?.finds(y, 0.05)).toBe((tests.at(-1)?.p(y) ?? NaN) < 0.05);
    expect(tests.at(-1)?.p(y)).not.toBe(1);
  });

  it('loses little of the likelihood and moves p by little against the exact estimate', () => {
    const lost: number[] = [];
    const moved: number[] = [];
    for (let set = 0; set < 6; set++) {
      const { table, labels, tray } = harvest(`set ${set}`, 0.05);
      const request = requestWith(model, ['cultivar']);
      const design = buildDesign(request, table);
      const untreated = coarseUntreated(request, table);
      if (!untreated) throw new Error('the request has a covariance');
      const bare = { ...requestWith(model, []), denominator: 'asymptotic' as const };
      const bareDesign = buildDesign(bare, table);
      const { covariance } = untreated(bareDesign)(bareDesign.y);
      const x = bareDesign.columns.map((_, j) =>
        Float64Array.from(
          bareDesign.y,
          (_, i) => bareDesign.x.data[i * bareDesign.x.columns + j] ?? 0,
        ),
      );
      const centre = mean(bareDesign.y);
      const y = bareDesign.y.map((value) => value - centre);
      lost.push((fit(bare, table).logLik ?? NaN) - restrictedLogLik(covariance(), x, y));
      const allocation: Allocation = {
        factors: ['cultivar'],
        runs: 399,
        seed: 'coarse',
        within: 'tray',
        anew: null,
        groups: Int32Array.from(labels, (_, i) => tray(i)),
        levels: labels.map((label) => [`c${label}`]),
      };
      const pBy = (by: typeof untreated | null) =>
        layoutTests(request, table, allocation, by).tests.at(-1)?.p(design.y) ?? NaN;
      moved.push(Math.abs(pBy(untreated) - pBy(null)));
    }
    // The exact estimate has the largest likelihood there is.
    for (const one of lost) expect(one).toBeGreaterThan(-1e-6);
    expect(Math.max(...lost)).toBeLessThan(1.5);
    // Layouts alone, 399 of them, move a p of one half by 0.025.
    expect(mean(Float64Array.from(moved))).toBeLessThan(0.06);
    expect(Math.max(...moved)).toBeLessThan(0.15);
  });
});
