import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  analysedOf,
  COLUMN,
  factorRoles,
  findingsOfTable,
  fitModel,
  meanShown,
  tableOf,
  termOf,
  type Findings,
  type TableReading,
} from '../../renderer/engine/findings';
import type { DataTable } from '../../shared-types/fit';
import { expectClose, readCsv } from './figures';
import { tableReading } from '../builders/tableReading';

// Source: R 4.2.2, tests/reference/make/27-findings-tables.R; InsectSprays (Beall 1942), each three
// rows of a spray as one tray.
const expected = JSON.parse(
  readFileSync(new URL('expected/27-findings-tables.json', import.meta.url), 'utf8'),
) as Record<string, Record<string, number>>;

const sprays = readCsv('data/insectsprays.csv', ['spray']);

/** The counts changed by `less` and not below zero, with trays and the sides within them. */
function counted(less: number): DataTable {
  const { spray = [], count = [] } = sprays.columns;
  const seen = new Map<unknown, number>();
  const tray = spray.map((name) => {
    const k = seen.get(name) ?? 0;
    seen.set(name, k + 1);
    return `${String(name)} ${Math.floor(k / 3)}`;
  });
  const side = spray.map((_, i) => (i % 3 === 1 ? 'b' : 'a'));
  const insects = count.map((value) => Math.max(0, Number(value) - less));
  return { columns: { spray, tray, side, insects }, rowCount: sprays.rowCount };
}

const reading = tableReading({
  response: 'insects',
  tray: 'tray',
  scale: 'quasi-poisson',
  factors: [{ column: 'spray', kind: 'randomised', unit: 'tray' }],
});

function found(table: DataTable, asked: Partial<TableReading> = {}): Findings {
  const outcome = findingsOfTable(table, { ...reading, ...asked });
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

function expectTerm(findings: Findings, columns: string[], source: string) {
  const term = termOf(findings.primary.result, columns);
  const own = expected[source] ?? {};
  expect([term?.df, term?.dfError]).toEqual([own['df'], own['dfError']]);
  expectClose(term?.statistic ?? NaN, own['F'], 1e-9, 'F');
  expectClose(term?.p ?? NaN, own['p'], 1e-7, 'p');
}

describe('counts with trays as units', () => {
  it.each([
    [0, 'counts'],
    [3, 'counts of zeros'],
  ])('less %d are analysed by the logarithm of tray means', (less, source) => {
    const findings = found(counted(less));
    expectTerm(findings, ['spray'], source);
    const rows = findings.primary.result.means[0]?.rows ?? [];
    expect(rows).toHaveLength(6);
    for (const row of rows) {
      const own = expected[`${source} ${String(row['spray'])}`] ?? {};
      const shown = meanShown(row);
      for (const name of ['mean', 'lower', 'upper'] as const) {
        expectClose(shown[name], own[name], 1e-9, name);
      }
    }
    expect(findings.averaged?.half).toBe(less === 3);
  });

  it('are averaged by the treatments within trays too, each judged by its own units', () => {
    const findings = found(counted(-1), {
      factors: [...reading.factors, { column: 'side', kind: 'randomised', unit: 'pot' }],
    });
    expectTerm(findings, ['spray'], 'counts by side spray');
    expectTerm(findings, ['side'], 'counts by side side');
    expectTerm(findings, ['spray', 'side'], 'counts by side spray:side');
  });
});

// Source: R 4.2.2, tests/reference/make/28-place-cases.R: aov of the logarithms of mean counts.
describe('mean counts of larger units', () => {
  type Term = Record<'df' | 'dfError' | 'F' | 'p', number>;
  type Source = Record<string, Term> & { table: Record<string, (string | number)[]> };
  const { shelves, strips } = JSON.parse(
    readFileSync(new URL('expected/28-counts-on-units.json', import.meta.url), 'utf8'),
  ) as Record<'shelves' | 'strips', Source>;
  const same = (found: ReturnType<typeof termOf>, wanted: Term | undefined) => {
    expect([found?.df, found?.dfError]).toEqual([wanted?.df, wanted?.dfError]);
    expectClose(found?.statistic ?? NaN, wanted?.F ?? NaN, 1e-9, 'F');
    expectClose(found?.p ?? NaN, wanted?.p ?? NaN, 1e-7, 'p');
  };

  it('judge a factor on shelves by shelves, one on their trays by trays', () => {
    const { table } = shelves;
    const { count = [], shelf = [], tray = [], light = [], feed = [] } = table;
    const trays = tray.map((name, i) => `${String(shelf[i])} ${name}`);
    const columns = { insects: count, shelf: shelf.map(String), tray: trays, lamp: light, feed };
    const { primary } = found(
      { columns, rowCount: count.length },
      {
        scale: 'poisson',
        shelf: 'shelf',
        factors: [
          { column: 'lamp', kind: 'randomised', unit: 'shelf' },
          { column: 'feed', kind: 'randomised', unit: 'tray' },
        ],
      },
    );
    same(termOf(primary.result, ['lamp']), shelves['light']);
    same(termOf(primary.result, ['feed']), shelves['feed']);
    same(termOf(primary.result, ['lamp', 'feed']), shelves['both']);
  });

  it('judge factors on strips that cross by their own strips', () => {
    const { count = [], rep = [], down = [], across = [], A = [], B = [] } = strips.table;
    const strip = (along: readonly (string | number)[]) =>
      rep.map((name, i) => `${name} ${String(along[i])}`);
    const read = tableOf(
      {
        columns: { insects: count, rep: rep.map((name) => `r${name}`), A, B },
        rowCount: count.length,
      },
      {
        ...reading,
        tray: 'rep',
        block: 'rep',
        scale: 'poisson',
        factors: ['A', 'B'].map((column) => ({ column, kind: 'randomised', unit: 'pot' })),
      },
    );
    const columns = {
      ...read.data.table.columns,
      [COLUMN['row-strip']]: strip(down),
      [COLUMN['column-strip']]: strip(across),
    };
    const data = { ...read.data, table: { ...read.data.table, columns } };
    const onStrips = read.factors.map((factor, i) => ({
      ...factor,
      unit: i === 0 ? ('row-strip' as const) : ('column-strip' as const),
    }));
    const means = analysedOf(data, factorRoles(data, onStrips), 'poisson');
    expect(means.data.table.rowCount).toBe(60);
    const asked = { confidence: 0.95, edgeVaries: false, scale: means.scale };
    const { result } = fitModel(means.data, means.design, 'none', asked);
    same(termOf(result, ['A']), strips['A']);
    same(termOf(result, ['B']), strips['B']);
    same(termOf(result, ['A', 'B']), strips['both']);
  });
});
