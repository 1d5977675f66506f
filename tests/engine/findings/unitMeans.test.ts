import { describe, expect, it } from 'vitest';
import {
  effectSizesOf,
  findingsOfTable,
  paragraph,
  plantsByLevel,
  randomisationSentence,
  tableRandomisationTest,
  termOf,
  type Findings,
  type TableReading,
} from '../../../renderer/engine/findings';
import { potsTable, varianceTable } from '../../../renderer/print/report';
import { methodWords } from '../../../renderer/print/report/words';
import type { DataTable } from '../../../shared-types/fit';
import { tableReading } from '../../builders/tableReading';

/** Six trays of six pots; feed by tray, soil by pot, leaves counted. Pots named have no value. */
function made(lost: readonly number[] = [], leaves = (i: number) => 8 + ((i * 7) % 5)): DataTable {
  const rows = Array.from({ length: 36 }, (_, i) => i);
  const tray = (i: number) => Math.floor(i / 6);
  return {
    columns: {
      pot: rows.map((i) => `P${i}`),
      tray: rows.map((i) => `T${tray(i)}`),
      row: rows.map((i) => 1 + Math.floor((i % 6) / 3)),
      column: rows.map((i) => 1 + (i % 3)),
      feed: rows.map((i) => (tray(i) % 2 === 0 ? 'weak' : 'strong')),
      soil: rows.map((i) => (i % 2 === 0 ? 'peat' : 'coir')),
      leaves: rows.map((i) => (lost.includes(i) ? null : leaves(i))),
    },
    rowCount: 36,
  };
}

const feed = { column: 'feed', kind: 'randomised', unit: 'tray' } as const;
const soil = { column: 'soil', kind: 'randomised', unit: 'pot' } as const;
const reading = tableReading({
  response: 'leaves',
  tray: 'tray',
  row: 'row',
  column: 'column',
  pot: 'pot',
  scale: 'poisson',
  factors: [feed],
});

function found(table: DataTable, asked: Partial<TableReading> = {}): Findings {
  const outcome = findingsOfTable(table, { ...reading, ...asked });
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

describe('counts with a factor on trays', () => {
  const findings = found(made([0, 7, 8]));

  it('say how they were taken, and count pots as pots', () => {
    const text = paragraph(findings);
    expect(text).toContain('Leaves was counted for 33 of 36 pots; left out: 3 without a record.');
    expect(text).toContain(
      'Counts were averaged per tray; the logarithm of these means was analysed.',
    );
    expect(text).toContain(
      'Means shown are geometric means of tray means; differences are ratios.',
    );
    expect(text).toContain('A mean has no row or column, so place within trays was left out.');
    expect(text).toContain('among trays, drawn over 6 trays');
    expect(text).not.toContain('half a count');
    const [weak, strong] = plantsByLevel(findings);
    expect([weak?.pots, weak?.analysed]).toEqual([18, 17]);
    expect([strong?.pots, strong?.analysed]).toEqual([18, 16]);
    expect(methodWords(findings).join(' ')).toContain('Counts were averaged per tray');
  });

  it('have no place within trays, and say which correction for it was left out', () => {
    expect(findings.positions.map(({ model }) => model)).toEqual(['none']);
    const planned = found(made(), { position: 'rows+columns' });
    expect(planned.primary.model).toBe('none');
    expect(paragraph(planned)).toContain(
      'the planned correction for place (rows and columns of each tray) was left out',
    );
  });

  it('are told apart by treatments within trays, named by both', () => {
    const both = found(made([0, 7]), { factors: [feed, soil] });
    expect(paragraph(both)).toContain('Counts were averaged per tray and treatment;');
    expect(paragraph(both)).toContain('among means of one tray');
    expect(both.primary.result.n).toBe(12);
    expect(termOf(both.primary.result, ['feed'])).toMatchObject({ dfError: 4, stratum: 'tray' });
    expect(both.checks.pots.map(({ code }) => code)).toContain('T0 peat');
    expect(potsTable(both).columns[0]?.head).toBe('Mean');
    const among = varianceTable(both)?.rows.map(([cell]) => cell?.text);
    expect(among).toEqual(['tray', 'means of one tray']);
  });

  it('show the residual of a mean at each of its pots, and no SD of pots', () => {
    expect(findings.residuals.size).toBe(33);
    const ofFirst = [1, 2, 3].map((i) => findings.residuals.get(`row:${i + 1}`));
    expect(new Set(ofFirst).size).toBe(1);
    expect(effectSizesOf(findings)[0]?.standardised).toBeNull();
    expect(effectSizesOf(findings)[0]?.percent).not.toBeNull();
  });

  it('with a tray without a single one get half a count each, which is told', () => {
    const zeros = found(made([], (i) => (i < 6 ? 0 : 8 + ((i * 7) % 5))));
    expect(paragraph(zeros)).toContain('half a count was added to every total');
    expect(zeros.averaged?.table.columns['response']?.[0]).toBeCloseTo(0.5 / 6, 12);
  });

  it('are refused where all means are alike', () => {
    const outcome = findingsOfTable(
      made([], (i) => 5 + (i % 3)),
      reading,
    );
    expect(outcome.ok ? '' : outcome.missing).toBe(
      'Every mean of leaves is 6.00, so nothing varies that could be analysed.',
    );
  });

  // The narrow miss: a factor on pots alone needs no averaging.
  it('are taken pot by pot where no factor is on trays', () => {
    const pots = found(made(), { factors: [soil] });
    expect(pots.averaged).toBeNull();
    expect(pots.scale).toBe('poisson');
    expect(paragraph(pots)).toContain('Leaves was analysed as counts (Poisson) for 36 of 36 pots.');
  });
});

describe('the randomisation test of counts', () => {
  it('takes the same means where trays are moved', () => {
    const drawn = tableRandomisationTest(made(), reading, {
      factors: ['feed'],
      runs: 99,
      seed: 's',
    });
    const term = termOf(found(made()).primary.result, ['feed']);
    expect(drawn.runs).toBe(20);
    expect(drawn.observed).toBeCloseTo(term?.statistic ?? NaN, 9);
  });

  it('takes pots where pots are moved, and says so', () => {
    const asked = { ...reading, factors: [feed, soil] };
    const drawn = tableRandomisationTest(made(), asked, { factors: ['soil'], runs: 99, seed: 's' });
    expect(randomisationSentence(drawn, 0.05)).toContain(
      'F is that of the square roots of their counts',
    );
  });
});
