import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  differenceShown,
  findingsOfTable,
  mainComparison,
  paragraph,
  randomisationSentence,
  statements,
  termOf,
  type Findings,
  type ResponseScale,
} from '../../../renderer/engine/findings';
import { stream } from '../../../renderer/engine/trial/stream';
import { tableReading } from '../../builders/tableReading';

// Tables of every kind, with and without effects: no sentence may say more than its figures. What may
// be said is fixed here by hand.

const OVERSTATED =
  /no effect|no difference|no influence|does not (matter|differ)|do not differ|prove[sn]?\b(?! that)|significan|identical|equally|are equal|is equal|are the same\b(?! under)|without effect/i;

const SCALES: ResponseScale[] = [
  null,
  'log',
  'sqrt',
  'poisson',
  'quasi-poisson',
  'negative-binomial',
];

interface Made {
  seed: number;
  levels: number;
  perCell: number;
  effect: number;
  slope: number;
  scale: ResponseScale;
  lost: number;
  given: boolean;
}

const tables = fc.record<Made>({
  seed: fc.integer({ min: 1, max: 1_000_000 }),
  levels: fc.integer({ min: 2, max: 4 }),
  perCell: fc.integer({ min: 2, max: 4 }),
  effect: fc.constantFrom(0, 0, 0, 1, 4),
  slope: fc.constantFrom(0, 0, 1),
  scale: fc.constantFrom(...SCALES),
  lost: fc.constantFrom(0, 0, 3),
  given: fc.boolean(),
});

/** Two trays with the levels of feed and three media in turn, by pot. */
function findingsOf(made: Made): Findings {
  const random = stream(`claims ${made.seed}`, 'table');
  const cells: Record<string, (string | number | null)[]> = {};
  const push = (name: string, cell: string | number | null) => (cells[name] ??= []).push(cell);
  let rowCount = 0;
  for (const tray of ['1A', '1B']) {
    for (let k = 0; k < made.perCell * made.levels * 3; k++) {
      const feed = Math.floor(random.fraction() * made.levels);
      const mean = 20 + made.effect * feed + made.slope * (k % 6);
      const value = Math.max(0.5, mean + 3 * random.normal());
      const counts = made.scale !== null && !['log', 'sqrt'].includes(made.scale);
      push('tray', tray);
      push('row', 1 + Math.floor(k / 6));
      push('column', 1 + (k % 6));
      push('feed', `F${feed}`);
      push('medium', ['bark', 'clay', 'coir'][k % 3] ?? '');
      push('value', k < made.lost ? null : counts ? Math.round(value) : value);
      rowCount++;
    }
  }
  const outcome = findingsOfTable(
    { columns: cells, rowCount },
    tableReading({
      title: 'made',
      response: 'value',
      unit: 'g',
      factors: [
        { column: 'feed', kind: made.given ? 'fixed' : 'randomised', unit: 'pot' },
        { column: 'medium', kind: 'randomised', unit: 'pot' },
      ],
      block: 'tray',
      tray: 'tray',
      row: 'row',
      column: 'column',
      position: 'edge',
      scale: made.scale,
    }),
  );
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const figure = (text: string) => Number(text.replace('−', '-'));

describe('what is said of any table', () => {
  it('is no more than its figures say', () => {
    const seen = { shown: 0, notShown: 0, ratios: 0 };
    fc.assert(
      fc.property(tables, (made) => {
        const found = findingsOf(made);
        expect(paragraph(found)).not.toMatch(OVERSTATED);
        expect(paragraph(found)).not.toMatch(/NaN|undefined|null|Infinity/);
        for (const role of found.design.tested) {
          const p = termOf(found.primary.result, [role.column])?.p ?? 1;
          const said = statements(found).find((s) => s.of === role.factor.name)?.text ?? '';
          const rows = mainComparison(found.primary.result, role)?.rows ?? [];
          const ends = rows.flatMap((row) => [Math.abs(row.lower), Math.abs(row.upper)]);
          if (p < found.alpha) {
            const verb =
              role.factor.kind === 'fixed' ? 'goes with a difference' : 'made a difference';
            expect(said).toContain(verb);
            expect(said).toMatch(/95 % interval/);
            seen.shown++;
          } else {
            expect(said).toMatch(/^A difference between levels of \w+ is not shown/);
            const allowed = /still allow differences as large as (?:a ratio of )?([−0-9.]+)/.exec(
              said,
            );
            const largest = differenceShown(found, Math.max(...ends));
            expect(figure(allowed?.[1] ?? '') / largest).toBeCloseTo(1, 1);
            seen.notShown++;
            if (said.includes('a ratio of')) seen.ratios++;
          }
        }
        for (const { about, text } of statements(found)) {
          if (about === 'edge' || about === 'light' || about === 'contrast') {
            expect(text).toMatch(/95 % interval [−0-9.]+ to [−0-9.]+/);
          }
          if (about === 'interaction' && text.includes('No clear interaction')) {
            expect(text).toContain('how large one could still be');
          }
        }
      }),
      { numRuns: 16, seed: 20260401 },
    );
    // The tables must have given occasion for every kind of sentence.
    expect(Math.min(seen.shown, seen.notShown, seen.ratios)).toBeGreaterThan(5);
  }, 90_000);

  it('holds for a randomisation test too', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 999 }), (asExtreme) => {
        const p = (1 + asExtreme) / 1000;
        const text = randomisationSentence(
          {
            term: 'feed',
            moved: ['feed'],
            unit: 'pot',
            runs: 999,
            asExtreme,
            p,
            exact: false,
            leastP: 0.001,
            observed: 2,
            sample: [],
            method: 'The layout was drawn anew 999 times by its own scheme.',
            approximate: null,
            answers: false,
          },
          0.05,
        );
        expect(text).not.toMatch(OVERSTATED);
        expect(text.includes('seldom')).toBe(p < 0.05);
        expect(text.includes('no proof that feed does nothing')).toBe(p >= 0.05);
      }),
      { seed: 20260402 },
    );
  });
});
