import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../../../shared-types/fit';
import type { DataTable } from '../../../../shared-types/fit';
import { buildDesign, designMatrix, randomUnits } from '../../../../renderer/engine/stats/design';

const table: DataTable = {
  columns: {
    y: [1, 2, 3, 4, 5, 6],
    shelf: ['s1', 's1', 's1', 's2', 's2', 's2'],
    tray: ['a', 'a', 'b', 'a', 'b', 'b'],
    feed: ['hi', 'lo', 'mid', 'hi', 'lo', 'mid'],
    light: ['on', 'off', 'on', 'off', 'on', 'off'],
    start: [1, 2, 3, 4, 5, 6],
    row: [1, 1, 2, 2, 3, 3],
    col: [1, 2, 2, 1, 1, 2],
  },
  rowCount: 6,
};

const layout = (request: object) =>
  buildDesign(fitRequestSchema.parse({ response: 'y', ...request }), table);

// Order of terms and reference coding as the textbook definition of an indicator coding has it.
describe('the design of a fit', () => {
  it('orders blocks, covariates, treatments, interactions, covariate interactions', () => {
    const design = layout({
      treatments: ['light', 'feed'],
      covariates: ['start'],
      fixedBlocks: ['shelf'],
      covariateInteractions: [['start', 'feed']],
    });
    expect(design.terms.map((term) => term.name)).toEqual([
      'shelf',
      'start',
      'light',
      'feed',
      'light × feed',
      'start × feed',
    ]);
    expect(design.columnNames).toEqual([
      '(intercept)',
      'shelf s2',
      'start',
      'light on',
      'feed lo',
      'feed mid',
      'light on × feed lo',
      'light on × feed mid',
      'start × feed lo',
      'start × feed mid',
    ]);
    const row = [...design.x.data.subarray(2 * 10, 3 * 10)];
    // The covariate enters less its mean, 3.5.
    expect(row.map((value) => value + 0)).toEqual([1, 0, -0.5, 1, 0, 1, 0, 1, 0, -0.5]);
  });

  it('makes every sum-coded factor add to zero over its levels', () => {
    const design = layout({ treatments: ['feed'] });
    const x = designMatrix(design, 6, 'sum');
    expect([...x.data.subarray(0, 9)]).toEqual([1, 1, 0, 1, 0, 1, 1, -1, -1]);
  });

  it('adds the lower interactions a listed one contains, and says so', () => {
    const design = layout({
      treatments: ['light', 'feed', 'shelf'],
      interactions: [['light', 'feed', 'shelf']],
    });
    expect(design.terms.map((term) => term.name)).toContain('feed × shelf');
    expect(design.warnings).toHaveLength(3);
    expect(() => layout({ treatments: ['light'], interactions: [['light', 'start']] })).toThrow(
      /interactions: found "start"/,
    );
  });

  it('is refused where single plants are taken for treatments, or all of many factors are crossed', () => {
    const codes = Array.from({ length: 2_002 }, (_, i) => `plant ${i}`);
    const plants = (count: number): DataTable => ({
      columns: { y: codes.map((_, i) => i).slice(0, count), plant: codes.slice(0, count) },
      rowCount: count,
    });
    const request = fitRequestSchema.parse({ response: 'y', treatments: ['plant'] });
    expect(() => buildDesign(request, plants(2_001))).toThrow(
      /^model: it has 2001 coefficients on 2001 rows, most of them of plant; at most 2000/,
    );
    expect(buildDesign(request, plants(2_000)).x.columns).toBe(2_000);
    const names = Array.from({ length: 13 }, (_, i) => `f${i}`);
    const columns = Object.fromEntries(names.map((name) => [name, ['a', 'b']]));
    expect(() =>
      buildDesign(fitRequestSchema.parse({ response: 'y', treatments: names }), {
        columns: { ...columns, y: [1, 2] },
        rowCount: 2,
      }),
    ).toThrow('interactions: found all of 13 factors; those of at most 12 are expected');
  });

  it('codes units by the combination of their columns', () => {
    const request = fitRequestSchema.parse({
      response: 'y',
      randomUnits: [['shelf'], ['shelf', 'tray']],
      position: { row: 'row', column: 'col', within: ['shelf'], model: 'rows+columns' },
    });
    const design = buildDesign(request, table);
    const units = randomUnits(request, table, design.rowIndex);
    expect(units.map(({ unit, levels }) => [unit, levels])).toEqual([
      ['shelf', 2],
      ['shelf × tray', 4],
      ['row', 4],
      ['column', 4],
    ]);
    expect([...(units[1]?.codes ?? [])]).toEqual([0, 0, 1, 2, 3, 3]);
  });

  it('marks the outermost row and column of each group as edge, dead pots included', () => {
    const cells = Array.from({ length: 25 }, (_, i) => [Math.floor(i / 5) + 1, (i % 5) + 1]);
    const grid: DataTable = {
      columns: {
        y: cells.map((_, i) => (i < 5 ? null : i)),
        row: cells.map((cell) => cell[0] ?? null),
        col: cells.map((cell) => cell[1] ?? null),
      },
      rowCount: 25,
    };
    const design = buildDesign(
      fitRequestSchema.parse({
        response: 'y',
        position: { row: 'row', column: 'col', model: 'edge' },
      }),
      grid,
    );
    const codes = design.factors.get('edge')?.codes ?? new Int32Array();
    // A 5 by 5 grid has 3 by 3 inner places; row 1 is dead, row 2 stays inner.
    expect(codes.filter((code) => code === 1)).toHaveLength(9);
    expect([...codes.subarray(0, 5)]).toEqual([0, 1, 1, 1, 0]);
  });
});
