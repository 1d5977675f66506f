import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { normals } from '../engine/stats/noise';
import { expectClose, readCsv } from './figures';

const place = { row: 'rowpos', column: 'colpos' };

// Source: R 4.2.2, spdep 1.2.7, lm.morantest, two-sided (make/26-moran-of-model.R).
describe("Moran's I of residuals under their model", () => {
  it.each([
    [[], 0.214609894709116, 0, 0.00863552250102627, 0.0209195466704208],
    [
      ['rowpos', 'colpos'],
      -0.05726383594777221,
      -0.14285714285714268,
      0.00909756411639783,
      0.3695152362788463,
    ],
  ] as const)(
    'has the moments of least squares with blocks %j',
    (fixedBlocks, ...want: readonly number[]) => {
      const asked = { response: 'decrease', treatments: ['treatment'], fixedBlocks };
      const request = fitRequestSchema.parse({ ...asked, checks: ['moran'], moran: place });
      const table = readCsv('data/orchardsprays.csv', categoryColumns(request));
      const found = fit(request, table).checks['moran'] ?? {};
      const names = ['i', 'modelExpected', 'modelVariance', 'modelP'];
      names.forEach((name, k) => expectClose(found[name], want[k], 1e-9, name, 1e-12));
    },
  );

  // Noise without any pattern: neighbours of residuals differ where a surface was taken out.
  // Without allowance for it, 'smooth' cries in nearly every set.
  it.each(['none', 'rows+columns', 'smooth'])('is quiet on noise under %s', (model) => {
    let alarms = 0;
    const sets = 80;
    for (let seed = 1; seed <= sets; seed++) {
      const noise = normals(7 * seed + 1);
      const each = (make: (i: number) => string | number) =>
        Array.from({ length: 108 }, (_, i) => make(i));
      const columns = {
        tray: each((i) => `t${Math.floor(i / 12)}`),
        row: each((i) => Math.floor((i % 12) / 4)),
        col: each((i) => i % 4),
        f: each((i) => `f${(i * 7) % 3}`),
        y: each(() => noise()),
      };
      const grid = { row: 'row', column: 'col', within: ['tray'] };
      const request = fitRequestSchema.parse({
        response: 'y',
        treatments: ['f'],
        randomUnits: [['tray']],
        checks: ['moran'],
        moran: grid,
        position: model === 'none' ? null : { ...grid, model },
      });
      const { moran } = fit(request, { columns, rowCount: 108 }).checks;
      if ((moran?.['p'] ?? 1) < 0.05) alarms++;
    }
    // 5 % of 80 is 4; 11 or more happen once in 500.
    expect(alarms).toBeLessThan(11);
  });

  it('judges the diagonal neighbours by the model too, as a check of their own would', () => {
    const asked = { response: 'decrease', treatments: ['treatment'], fixedBlocks: ['rowpos'] };
    const [rook, queen] = (['rook', 'queen'] as const).map((neighbours) => {
      const moran = { ...place, neighbours };
      const request = fitRequestSchema.parse({ ...asked, checks: ['moran'], moran });
      return fit(request, readCsv('data/orchardsprays.csv', categoryColumns(request))).checks.moran;
    });
    expect(queen?.['modelP']).toBeGreaterThan(0);
    expect(rook?.['queenModelP']).toBe(queen?.['modelP']);
    expect(rook?.['queenModelExpected']).toBe(queen?.['modelExpected']);
    expect(queen).not.toHaveProperty('queenModelP');
  });
});
