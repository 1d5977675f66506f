import { describe, expect, it } from 'vitest';
import {
  findingsOfTable,
  mainComparison,
  paragraph,
  termOf,
} from '../../../renderer/engine/findings';
import { fit } from '../../../renderer/engine/stats/fit';
import { stream } from '../../../renderer/engine/trial/stream';
import { fitRequestSchema } from '../../../shared-types/fit';
import type { PositionModel } from '../../../shared-types/trial/position';

const reading = {
  title: 'made',
  response: 'value',
  unit: 'g',
  block: null,
  shelf: null,
  tray: null,
  row: 'row',
  column: 'column',
  start: null,
  light: null,
  pot: null,
};

/** Pots in a grid that differ by a wave over the rows; `other` beside feed where asked for. */
function made(rows: number, columns: number, seed: string, effect: number, other: boolean) {
  const random = stream(seed, 'pots');
  const cells: Record<string, (string | number)[]> = {
    row: [],
    column: [],
    feed: [],
    other: [],
    value: [],
  };
  for (let i = 0; i < rows * columns; i++) {
    const row = 1 + Math.floor(i / columns);
    const fed = random.fraction() < 0.5;
    cells['row']?.push(row);
    cells['column']?.push(1 + (i % columns));
    cells['feed']?.push(fed ? 'strong' : 'weak');
    cells['other']?.push(['bark', 'clay', 'coir'][random.integer(3)] ?? '');
    cells['value']?.push(20 + 2 * Math.sin(row) + (fed ? effect : 0) + random.normal());
  }
  const factors = ['feed', ...(other ? ['other'] : [])].map((column) => ({
    column,
    kind: 'randomised' as const,
    unit: 'pot' as const,
  }));
  return { table: { columns: cells, rowCount: rows * columns }, factors };
}

function answer(
  { table, factors }: ReturnType<typeof made>,
  position: PositionModel,
  alpha = 0.05,
) {
  const found = findingsOfTable(table, { ...reading, factors, position, alpha });
  if (!found.ok) throw new Error(found.missing);
  return found.findings;
}

describe('factors on pots under a smooth surface or likeness of neighbours', () => {
  it('are significant exactly when the interval of their difference leaves out zero', () => {
    const shown = { yes: 0, no: 0 };
    for (const [k, effect] of [0, 0.6, 0.8, 2].entries()) {
      const { positions, roles } = answer(made(6, 6, `set ${k}`, effect, true), 'none');
      for (const { result } of positions.filter(({ model }) => ['smooth', 'ar1'].includes(model))) {
        const [feed] = roles;
        const term = termOf(result, ['feed']);
        const row = feed && mainComparison(result, feed)?.rows[0];
        if (!term || term.p === null || !row) throw new Error('feed was tested');
        expect(term.randomised?.approximate).toBe(false);
        expect(term.p).toBe(row.p);
        expect(term.p < 0.05).toBe(row.lower > 0 || row.upper < 0);
        shown[term.p < 0.05 ? 'yes' : 'no']++;
        // Two factors move together in their interaction.
        expect(termOf(result, ['feed', 'other'])?.randomised?.approximate).toBe(true);
      }
    }
    expect(shown.yes).toBeGreaterThan(0);
    expect(shown.no).toBeGreaterThan(0);
  });

  it('have pairs that differ exactly when their intervals leave out zero, by every method', () => {
    const shown = { yes: 0, no: 0 };
    for (const [k, model] of (['smooth', 'ar1'] as const).entries()) {
      const { table } = made(6, 6, `pairs ${k}`, 0, true);
      const other = table.columns['other'] ?? [];
      const value = (table.columns['value'] ?? []).map(
        (y, i) => Number(y) + (other[i] === 'clay' ? 1.5 : other[i] === 'coir' ? 0.7 : 0),
      );
      const methods = (['tukey', 'dunnett', 'holm', 'bonferroni', 'none'] as const).flatMap(
        (method) => [[], ['feed']].map((by) => ({ means: ['other'], by, method, against: null })),
      );
      const feeds = { means: ['feed'], by: [], method: 'none', against: null };
      const request = fitRequestSchema.parse({
        response: 'value',
        treatments: ['feed', 'other'],
        tests: 'marginal',
        denominator: 'units',
        compare: [...methods, feeds],
        position: { row: 'row', column: 'column', within: [], model },
      });
      const { comparisons, terms } = fit(
        request,
        { ...table, columns: { ...table.columns, value } },
        {
          factors: ['feed', 'other'],
          runs: 399,
          seed: 'pairs',
          within: '',
          anew: null,
          groups: new Int32Array(table.rowCount),
          // As where the plan has changed since: others stay, and the test of feed is that of its pair.
          loose: k > 0,
          levels: other.map((level, i) => [String(table.columns['feed']?.[i]), String(level)]),
        },
      );
      const feed = terms.find(({ term }) => term === 'feed');
      expect(feed?.p).toBe(comparisons.at(-1)?.rows[0]?.p);
      expect(feed?.randomised?.approximate).toBe(k > 0);
      for (const { method, by, rows, letters, randomised } of comparisons) {
        expect(randomised).toBe(true);
        for (const row of rows) {
          const differs = row.p < 0.05;
          expect(differs, `${method} ${by.join()}`).toBe(row.lower > 0 || row.upper < 0);
          shown[differs ? 'yes' : 'no']++;
          const [a, b] = [letters[row.a], letters[row.b]];
          if (a === undefined || b === undefined) continue;
          expect([...a].some((letter) => b.includes(letter))).toBe(!differs);
        }
      }
      const pOf = (wanted: string) =>
        comparisons.find(({ method, by }) => method === wanted && by.length === 0)?.rows[0]?.p;
      expect(pOf('holm')).toBe(pOf('tukey'));
      expect(pOf('none')).toBeLessThanOrEqual(pOf('holm') ?? 0);
    }
    expect(shown.yes).toBeGreaterThan(0);
    expect(shown.no).toBeGreaterThan(0);
  });

  it('keep the test of the model where too few layouts are possible, and say so', () => {
    const small = made(2, 4, 'small', 1, false);
    // Eight pots, four with each feed: 70 layouts.
    small.table.columns['feed'] = ['a', 'b', 'b', 'a', 'a', 'b', 'a', 'b'];
    const byModel = answer(small, 'ar1', 0.01).primary;
    expect(termOf(byModel.result, ['feed'])?.randomised).toBeUndefined();
    expect(byModel.result.warnings.join(' ')).toMatch(
      /feed has no randomisation test: the least p/,
    );
    const answered = answer(small, 'ar1', 0.1);
    const byLayouts = answered.primary;
    expect(paragraph(answered)).toContain('df, randomisation test over 70 layouts');
    expect(termOf(byLayouts.result, ['feed'])?.randomised).toMatchObject({
      layouts: 70,
      exact: true,
    });
  });
});
