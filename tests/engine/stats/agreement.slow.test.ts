import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../../shared-types/fit';
import type { DataTable } from '../../../shared-types/fit';
import { fit } from '../../../renderer/engine/stats/fit';
import { stream } from '../../../renderer/engine/trial/stream';

// A two-level factor is significant exactly when the interval of its difference leaves out zero:
// under every model, in unbalanced data, with marginal tests and equally weighted means.

/** Eight trays of twelve pots on four shelves; feed by tray, cultivar (of two) and medium by pot. */
function trial(seed: number): DataTable {
  const random = stream(`agreement ${seed}`, 'trial');
  const columns: Record<string, (string | number | null)[]> = {};
  const feedFirst = Array.from({ length: 4 }, () => random.integer(2));
  for (let i = 0; i < 96; i++) {
    const tray = Math.floor(i / 12);
    const shelf = Math.floor(tray / 2);
    const feed = (tray + (feedFirst[shelf] ?? 0)) % 2 === 0 ? 'p' : 'q';
    const cultivar = random.fraction() < 0.4 ? 'k' : 'l';
    const size = 6 + 0.6 * random.normal() + (cultivar === 'k' ? 0.4 : 0) + ((tray * 5) % 7) / 9;
    const row: Record<string, string | number | null> = {
      tray: `t${tray}`,
      shelf: `s${shelf}`,
      feed,
      cultivar,
      medium: ['bark', 'clay', 'coir'][random.integer(3)] ?? '',
      row: Math.floor((i % 12) / 4),
      col: i % 4,
      x: random.normal(),
      y: random.fraction() < 0.12 ? null : size,
      n: Math.max(0, Math.round(size * (0.4 + random.fraction()))),
    };
    for (const [name, value] of Object.entries(row)) (columns[name] ??= []).push(value);
  }
  return { columns, rowCount: 96 };
}

const units = { fixedBlocks: ['shelf'], randomUnits: [['tray']] };
const place = (model: string) => ({ row: 'row', column: 'col', within: ['tray'], model });
const counts = (kind: string) => ({
  response: 'n',
  counts: kind,
  treatments: ['cultivar', 'medium'],
});
const models: Record<string, object> = {
  fixed: { treatments: ['cultivar', 'medium'] },
  'fixed with trays as blocks': { treatments: ['cultivar', 'medium'], fixedBlocks: ['tray'] },
  edge: { treatments: ['cultivar', 'medium'], position: place('edge') },
  linear: { treatments: ['cultivar', 'medium'], position: place('linear') },
  satterthwaite: { ...units, denominator: 'satterthwaite' },
  'kenward-roger': { ...units, denominator: 'kenward-roger' },
  containment: { ...units, denominator: 'containment' },
  units: { ...units, denominator: 'units' },
  asymptotic: { ...units, denominator: 'asymptotic' },
  'nested units': { randomUnits: [['shelf'], ['tray']], denominator: 'units' },
  'rows and columns': { ...units, denominator: 'kenward-roger', position: place('rows+columns') },
  smooth: { ...units, denominator: 'kenward-roger', position: place('smooth') },
  'smooth, by units': { ...units, denominator: 'units', position: place('smooth') },
  'smooth, satterthwaite': { ...units, denominator: 'satterthwaite', position: place('smooth') },
  ar1: { ...units, denominator: 'kenward-roger', position: place('ar1') },
  'ar1, satterthwaite': { ...units, denominator: 'satterthwaite', position: place('ar1') },
  poisson: counts('poisson'),
  'quasi-poisson': counts('quasi-poisson'),
  'negative binomial': counts('negative-binomial'),
  'poisson with an exposure': { ...counts('poisson'), offset: 'exposure' },
};

describe('test and interval of a two-level factor', () => {
  it.each(Object.keys(models))('agree: %s', (name) => {
    const slow = /smooth|ar1/.test(name);
    let decided = 0;
    for (let seed = 1; seed <= (slow ? 3 : 12); seed++) {
      const table = trial(seed);
      table.columns['exposure'] = (table.columns['x'] ?? []).map((x) => Math.exp(Number(x) / 4));
      const alpha = [0.05, 0.01, 0.2][seed % 3] ?? 0.05;
      const request = fitRequestSchema.parse({
        response: 'y',
        treatments: ['feed', 'cultivar', 'medium'],
        covariates: ['x'],
        tests: 'marginal',
        confidence: 1 - alpha,
        compare: ['feed', 'cultivar'].map((means) => ({ means, method: 'tukey' })),
        ...models[name],
      });
      const { treatments } = request;
      const asked = {
        ...request,
        compare: request.compare.filter(({ means }) =>
          means.every((of) => treatments.includes(of)),
        ),
      };
      const result = fit(asked, table);
      for (const { of, rows } of result.comparisons) {
        const p = result.terms.find(({ term }) => term === of[0])?.p ?? NaN;
        const [row] = rows;
        expect(row?.p).toBeCloseTo(p, 7);
        const excludes = (row?.lower ?? 0) > 0 || (row?.upper ?? 0) < 0;
        expect([name, seed, of, excludes]).toEqual([name, seed, of, p < alpha]);
        decided++;
      }
    }
    expect(decided).toBeGreaterThan(2);
  });
});
