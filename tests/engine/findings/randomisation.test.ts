import { describe, expect, it } from 'vitest';
import {
  findingsOfTable,
  mainComparison,
  paragraph,
  termOf,
} from '../../../renderer/engine/findings';
import { stream } from '../../../renderer/engine/trial/stream';
import type { PositionModel } from '../../../shared-types/trial';

const reading = {
  ...{ title: 'made', response: 'value', unit: 'g', block: null, shelf: null, tray: null },
  ...{ row: 'row', column: 'column', start: null, light: null, pot: null },
};

/** Pots in a grid that differ by a wave over the rows; `other` beside feed where asked for. */
function made(rows: number, columns: number, seed: string, effect: number, other: boolean) {
  const random = stream(seed, 'pots');
  const cells: Record<string, (string | number)[]> = {
    ...{ row: [], column: [], feed: [], other: [], value: [] },
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
    ...{ column, kind: 'assigned' as const, unit: 'pot' as const },
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
      ...{ layouts: 70, exact: true },
    });
  });
});
