import { describe, expect, it } from 'vitest';
import {
  findingsNotices,
  findingsOfTable,
  paragraph,
  sensitivityOf,
  termOf,
} from '../../../renderer/engine/findings';
import type { Findings, TableReading } from '../../../renderer/engine/findings';
import { matrixWords, positionMatrix } from '../../../renderer/print/report';
import { fit } from '../../../renderer/engine/stats/fit';
import { stream } from '../../../renderer/engine/trial/stream';
import { fitRequestSchema } from '../../../shared-types/fit';
import type { DataTable } from '../../../shared-types/fit';
import { tableReading } from '../../builders/tableReading';

interface Made {
  seed: string;
  /** Standard deviation among trays; pots have 1. */
  trays: number;
  lost?: number;
  counts?: boolean;
}

/** Two blocks of four trays of 3 × 4 pots: feed by tray, soil by pot; neither does anything. */
function made({ seed, trays, lost = 0, counts = false }: Made): DataTable {
  const random = stream('unit rule', seed);
  const columns: DataTable['columns'] = {};
  const push = (name: string, value: string | number | null) => {
    (columns[name] ??= []).push(value);
  };
  for (let tray = 0; tray < 8; tray++) {
    const own = trays * random.normal();
    for (let pot = 0; pot < 12; pot++) {
      push('block', tray < 4 ? 'front' : 'back');
      push('tray', `T${tray}`);
      push('row', 1 + Math.floor(pot / 4));
      push('column', 1 + (pot % 4));
      push('feed', tray % 2 === 0 ? 'weak' : 'strong');
      push('soil', (pot + Math.floor(pot / 4)) % 2 === 0 ? 'peat' : 'coir');
      const value = 10 + own + random.normal();
      const missing = random.fraction() < lost;
      push('weight', missing ? null : counts ? Math.max(0, Math.round(value)) : value);
    }
  }
  return { columns, rowCount: 96 };
}

const reading = tableReading({
  response: 'weight',
  unit: 'g',
  block: 'block',
  tray: 'tray',
  row: 'row',
  column: 'column',
  factors: [
    { column: 'feed', kind: 'randomised', unit: 'tray' },
    { column: 'soil', kind: 'randomised', unit: 'pot' },
  ],
});

function found(table: DataTable, asked: TableReading = reading): Findings {
  const outcome = findingsOfTable(table, asked);
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

/** Test and interval of every two-level factor under every model. */
function bothOf(findings: Findings) {
  return findings.positions.flatMap(({ model, result }) =>
    findings.design.tested.map((role) => {
      const p = termOf(result, [role.column])?.p ?? NaN;
      const row = result.comparisons.find((c) => c.of[0] === role.column)?.rows[0];
      const holdsZero = row && row.lower <= 0 && row.upper >= 0;
      return { model, factor: role.factor.name, p, own: row?.p, holdsZero };
    }),
  );
}

describe('what is laid on whole trays', () => {
  // The mean square between trays, on block 1 + feed 1 of 7 df between 8 trays.
  it.each([0, 0.5])('is judged by trays where they vary by %d', (trays) => {
    const findings = found(made({ seed: 'units', trays, lost: 0.1 }));
    for (const { result } of findings.positions) {
      expect(termOf(result, ['feed'])).toMatchObject({ dfError: 5, stratum: 'tray' });
    }
  });

  it('is judged by trays that differ less than their pots would make them, which is told', () => {
    const unplaced = { ...reading, row: null, column: null };
    const seeds = Array.from({ length: 12 }, (_, i) =>
      found(made({ seed: `${i}`, trays: 0 }), unplaced),
    );
    const below = seeds.filter(({ primary }) =>
      primary.result.variance.some(({ unit, variance }) => unit === 'tray' && variance < 0),
    );
    expect(below.length).toBeGreaterThan(2);
    expect(below.length).toBeLessThan(12);
    for (const findings of seeds) {
      const notice = findingsNotices(findings).find(({ kind }) => kind === 'unit-variance-zero');
      expect(notice !== undefined).toBe(below.includes(findings));
      expect(termOf(findings.primary.result, ['feed'])?.dfError).toBe(5);
      if (!notice) continue;
      expect(notice.severity).toBe('note');
      expect(notice.text).toMatch(/^Trays differ less than their pots alone would make them/);
      expect(notice.remedy).toContain('Trays stay the units, and feed is judged by them.');
    }
  });
});

describe('place within trays', () => {
  const unbalanced = found(made({ seed: 'uneven', trays: 0.4, lost: 0.2 }));
  const said = ({ result }: Findings['positions'][number]) => ({
    term: termOf(result, ['feed']),
    differences: result.comparisons.find((c) => c.of[0] === 'feed' && c.by.length === 0)?.rows,
    between: result.meanSquares.find(({ unit }) => unit === 'tray'),
  });

  it.each(['edge', 'linear', 'rows+columns', 'smooth', 'ar1'] as const)(
    'says nothing about what was given to whole trays: %s',
    (model) => {
      const [plain, placed] = ['none', model].map((name) => {
        const one = unbalanced.positions.find((position) => position.model === name);
        if (!one) throw new Error(`${name} was not fitted`);
        return one;
      });
      if (!plain || !placed) throw new Error('not fitted');
      expect(said(placed)).toEqual(said(plain));
      expect(termOf(placed.result, ['soil'])?.p).not.toBe(termOf(plain.result, ['soil'])?.p);
    },
  );

  it('leaves their mean light as a covariate between trays', () => {
    const table = made({ seed: 'lit', trays: 0.5 });
    const ppfd = Array.from(
      { length: 96 },
      (_, i) => 200 + ((i * 7) % 11) + Math.floor(i / 12) ** 2,
    );
    const asked: TableReading = { ...reading, light: 'ppfd', position: 'light' };
    const findings = found({ ...table, columns: { ...table.columns, ppfd } }, asked);
    // With all plants alive that is least squares of the tray means.
    const means = (values: readonly (number | string | null)[]) =>
      Array.from({ length: 8 }, (_, tray) => {
        const own = values.slice(12 * tray, 12 * tray + 12);
        return own.reduce<number>((sum, value) => sum + Number(value) / 12, 0);
      });
    const names = (column: string) =>
      Array.from({ length: 8 }, (_, tray) => table.columns[column]?.[12 * tray] ?? null);
    const byHand = fit(
      fitRequestSchema.parse({
        response: 'weight',
        treatments: ['feed'],
        fixedBlocks: ['block'],
        covariates: ['ppfd'],
        tests: 'marginal',
      }),
      {
        rowCount: 8,
        columns: {
          weight: means(table.columns['weight'] ?? []),
          ppfd: means(ppfd),
          feed: names('feed'),
          block: names('block'),
        },
      },
    ).terms.find(({ term }) => term === 'feed');
    const feed = termOf(findings.primary.result, ['feed']);
    expect(feed?.dfError).toBe(4);
    expect(feed?.statistic).toBeCloseTo(byHand?.statistic ?? NaN, 8);
    expect(feed?.p).toBeCloseTo(byHand?.p ?? NaN, 9);
    expect(paragraph(findings)).toContain('drawn over 8 trays');
  });
});

describe('position models', () => {
  const findings = found(made({ seed: 'position', trays: 0.5 }));
  const text = paragraph(findings);

  it('say that place within trays cannot judge what was given to whole trays', () => {
    expect(text).toContain('judged by the variation among trays, drawn over 8 trays');
    expect(text).toContain(
      'Position within trays cannot judge feed, which was given to whole trays.',
    );
    expect(text).not.toContain('cannot judge soil');
    const rows = sensitivityOf(findings);
    const feed = rows.find(({ factor }) => factor === 'feed');
    expect(feed?.cells.map(({ model }) => model)).toEqual(['none']);
    expect(rows.find(({ factor }) => factor === 'soil')?.unable).toEqual([]);
  });

  it('are counted as agreeing only on what they can judge', () => {
    expect(text).toMatch(/The verdict on soil (is the same under all 6 ways|depends)/);
    expect(text).not.toMatch(/verdict on feed/);
    const light = { ...reading, light: 'ppfd' };
    const table = made({ seed: 'position', trays: 0.5 });
    const ppfd = Array.from({ length: 96 }, (_, i) => 200 + ((i * 7) % 11) + Math.floor(i / 12));
    const lit = paragraph(found({ ...table, columns: { ...table.columns, ppfd } }, light));
    expect(lit).toMatch(/The verdict on feed (is the same under both ways|depends)/);
  });
});

describe('the pairs under all models', () => {
  const findings = found(made({ seed: 'pairs', trays: 0.4, lost: 0.1 }), {
    ...reading,
    alpha: 0.4,
  });

  it('are marked exactly where the answer changes, and bold where an interval leaves out zero', () => {
    const matrix = positionMatrix(findings);
    const rows = sensitivityOf(findings);
    expect(matrix?.rows).toHaveLength(rows.length);
    rows.forEach((row, i) => {
      const answer = row.cells.find(({ model }) => model === 'none');
      row.cells.forEach((cell) => {
        const leavesOut = cell.lower > 0 || cell.upper < 0;
        expect(cell.shown).toBe(leavesOut);
        const otherSign = cell.estimate * (answer?.estimate ?? NaN) < 0;
        const otherwise = otherSign || cell.shown !== answer?.shown;
        expect(cell.changes !== null, `${row.label} ${cell.model}`).toBe(otherwise);
        const drawn = matrix?.rows[i]?.find(({ value }) => value === cell.estimate);
        expect(drawn?.strong).toBe(leavesOut);
      });
      expect(matrix?.rows[i]?.some(({ mark }) => mark !== undefined)).toBe(
        row.cells.some(({ changes }) => changes !== null),
      );
    });
  });

  it('have like decimals in an estimate and its interval, and name no criterion', () => {
    const matrix = positionMatrix(findings);
    const cells = matrix?.rows.flat().filter(({ value }) => typeof value === 'number') ?? [];
    expect(cells.length).toBeGreaterThan(5);
    for (const { text, under = '' } of cells) {
      const decimals = [text, ...under.split(' to ')].map(
        (one) => (one.split('.')[1] ?? '').length,
      );
      expect(new Set(decimals).size, `${text} ${under}`).toBe(1);
    }
    expect(JSON.stringify(matrix?.columns)).not.toContain('AIC');
  });

  it('show the factor of whole trays once, for place within them says nothing', () => {
    const [feed] = positionMatrix(findings)?.rows ?? [];
    expect(feed?.slice(1).map(({ text }) => text === 'as without')).toEqual([
      ...[false, true, true, true, true, true],
    ]);
    expect(matrixWords(findings).join(' ')).toContain('cannot judge feed');
  });
});

describe('a factor with two levels', () => {
  it('is shown exactly where the interval of its difference leaves out zero', () => {
    let shown = 0;
    for (let i = 0; i < 6; i++) {
      // A level of .3 makes both verdicts common.
      const findings = found(made({ seed: `level ${i}`, trays: 0.4, lost: 0.15 }), {
        ...reading,
        alpha: 0.3,
      });
      for (const { model, factor, p, own, holdsZero } of bothOf(findings)) {
        const where = `${i} ${model} ${factor}`;
        expect(own, where).toBeCloseTo(p, 9);
        expect(holdsZero, where).toBe(p >= 0.3);
        if (p < 0.3) shown++;
      }
    }
    expect(shown).toBeGreaterThan(5);
  });

  it.each(['poisson', 'quasi-poisson', 'negative-binomial', 'log', 'sqrt'] as const)(
    'is shown so on the scale %s, on trays and on pots',
    (scale) => {
      const units = new Set<string>();
      const verdicts = new Set<boolean>();
      for (let i = 0; i < 4; i++) {
        for (const unit of ['tray', 'pot'] as const) {
          const asked: TableReading = {
            ...reading,
            scale,
            alpha: 0.5,
            factors: reading.factors.map((factor, k) => (k === 0 ? { ...factor, unit } : factor)),
          };
          const table = made({ seed: `scale ${i}`, trays: 0.5, counts: true, lost: 0.15 });
          for (const { model, factor, p, own, holdsZero } of bothOf(found(table, asked))) {
            const where = `${scale} ${i} ${unit} ${model} ${factor}`;
            expect(own, where).toBeDefined();
            expect(holdsZero, `${where} ${p}`).toBe(p >= 0.5);
            units.add(`${unit} ${factor}`);
            verdicts.add(holdsZero === true);
          }
        }
      }
      expect([...units].sort()).toEqual(['pot feed', 'pot soil', 'tray feed', 'tray soil']);
      expect(verdicts.size).toBe(2);
    },
  );

  it('is shown so for counts as well', () => {
    const asked: TableReading = {
      ...reading,
      scale: 'poisson',
      alpha: 0.9,
      factors: reading.factors.map((factor) => ({ ...factor, unit: 'pot' })),
    };
    const both = [1, 2, 3, 4].flatMap((i) =>
      bothOf(found(made({ seed: `counts ${i}`, trays: 1, counts: true, lost: 0.2 }), asked)),
    );
    expect(both.length).toBeGreaterThan(20);
    for (const { model, factor, p, holdsZero } of both) {
      expect(holdsZero, `${model} ${factor} ${p}`).toBe(p >= 0.9);
    }
    expect(both.some(({ holdsZero }) => holdsZero)).toBe(true);
    expect(both.some(({ holdsZero }) => !holdsZero)).toBe(true);
  });
});
