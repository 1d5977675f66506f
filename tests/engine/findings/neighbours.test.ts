import { describe, expect, it } from 'vitest';
import { spreadOf } from '../../../renderer/derive';
import {
  edgeMeansWords,
  effectSizesOf,
  findingsOfTable,
  paragraph,
  type Findings,
} from '../../../renderer/engine/findings';
import { stream } from '../../../renderer/engine/trial/stream';
import { effectSizeTable, positionTable, varianceTable } from '../../../renderer/print/report';
import type { DataTable } from '../../../shared-types/fit';
import { tableReading } from '../../builders/tableReading';

const [SHARED, OWN, LIKE] = [2, 1, 0.5];

/** Three trays of 6 × 8 pots, neighbours alike by LIKE along rows and columns; coir gives 5 more. */
function made(): DataTable {
  const random = stream('neighbours', 'alike');
  const columns: DataTable['columns'] = {};
  const push = (name: string, value: string | number) => (columns[name] ??= []).push(value);
  const step = Math.sqrt(1 - LIKE ** 2);
  for (let tray = 0; tray < 3; tray++) {
    // Along rows first, then along columns: the product of both correlations.
    const alongRows = Array.from({ length: 6 }, () => {
      let before = random.normal();
      return Array.from({ length: 8 }, (_, c) => {
        if (c > 0) before = LIKE * before + step * random.normal();
        return before;
      });
    });
    let before = alongRows[0] ?? [];
    for (let r = 0; r < 6; r++) {
      const own = alongRows[r] ?? [];
      if (r > 0) before = own.map((value, c) => LIKE * (before[c] ?? 0) + step * value);
      for (let c = 0; c < 8; c++) {
        const soil = random.fraction() < 0.5 ? 'peat' : 'coir';
        push('tray', `T${tray}`);
        push('row', r + 1);
        push('column', c + 1);
        push('soil', soil);
        const value = SHARED * (before[c] ?? 0) + OWN * random.normal();
        push('weight', 40 + value + (soil === 'coir' ? 5 : 0));
      }
    }
  }
  return { columns, rowCount: 144 };
}

const reading = tableReading({
  response: 'weight',
  unit: 'g',
  tray: 'tray',
  row: 'row',
  column: 'column',
  position: 'ar1',
  factors: [{ column: 'soil', kind: 'randomised', unit: 'pot' }],
});

function found(position: 'ar1' | 'none'): Findings {
  const outcome = findingsOfTable(made(), { ...reading, position });
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const alike = found('ar1');
const plain = found('none');

describe('with neighbouring pots alike', () => {
  it('says in words why it has no Moran’s I and no AIC, which others have', () => {
    const table = positionTable(alike);
    const dashes = (row = table.rows.at(-1)) => row?.filter(({ text }) => text === '–').length;
    expect(dashes()).toBe(3);
    expect(table.note).toBe(
      'No Moran’s I under “neighbouring pots alike”: that model already contains what Moran’s I looks for. ' +
        'A dash under AIC: the fit of that model gives no AIC that compares with the others.',
    );
    expect(dashes(table.rows[0])).toBe(0);
  });

  it('a difference is measured by the SD of pots, with what they share', () => {
    expect(alike.primary.model).toBe('ar1');
    const [size] = effectSizesOf(alike);
    const truth = 5 / Math.hypot(SHARED, OWN);
    // The nugget alone would give more than twice the truth.
    expect(Math.abs(size?.standardised?.value ?? NaN)).toBeGreaterThan(0.7 * truth);
    expect(Math.abs(size?.standardised?.value ?? NaN)).toBeLessThan(1.4 * truth);
    const [comparison] = alike.primary.result.comparisons;
    const note = comparison && effectSizeTable(alike, comparison)?.note;
    expect(note).toContain('with what neighbouring pots share');
  });

  it('the next trial is planned with that SD', () => {
    const spread = spreadOf({ ok: true, findings: alike });
    const { spatial } = alike.primary.result;
    const sd = Math.sqrt((spatial?.nugget ?? NaN) + (spatial?.spatialVariance ?? NaN));
    expect('plantSd' in spread && spread.plantSd).toBeCloseTo(sd, 12);
  });

  it('variances say that the model tells no interval, not that df are few', () => {
    const table = varianceTable(alike);
    const cells = table?.rows.map((row) => row.map(({ text }) => text)) ?? [];
    expect(cells.map(([among]) => among)).toEqual([
      'places, neighbouring pots alike',
      'pots of one place (nugget)',
    ]);
    expect(cells.map(([, , , interval]) => interval)).toEqual(['not told', 'not told']);
    expect(table?.note).toBe(
      'How sure a variance is that has no df here, this model does not tell.',
    );
    // The narrow miss: a model with df has its intervals.
    const usual = varianceTable(plain);
    expect(usual?.rows[0]?.[3]?.text).toMatch(/^[0-9.]+ to [0-9.]+$/);
    expect(usual?.note).toBe(
      'Intervals of variances are by chi-square, on df after Satterthwaite.',
    );
  });
});

describe('means of edge and inner pots', () => {
  it('have the decimals of the narrower interval', () => {
    const { edge } = plain;
    if (!edge) throw new Error('the trays have edges');
    expect(paragraph(plain)).toContain(edgeMeansWords(edge, 'g'));
    const given = {
      ...edge,
      edgeMean: 41.23456,
      innerMean: 43.98765,
      edgeInterval: [41.1, 41.4] as [number, number],
      innerInterval: [30, 57] as [number, number],
    };
    expect(edgeMeansWords(given, 'g')).toBe('edge 41.23 g, inner 43.99 g');
  });
});
