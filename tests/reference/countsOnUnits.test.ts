import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  findingsOfTable,
  meanShown,
  termOf,
  type Findings,
  type TableReading,
} from '../../renderer/engine/findings';
import type { DataTable } from '../../shared-types/fit';
import { expectClose, readCsv } from './figures';

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

const reading: TableReading = {
  ...{ title: 'sprays', response: 'insects', unit: '', block: null, shelf: null, tray: 'tray' },
  ...{ row: null, column: null, start: null, light: null, pot: null },
  ...{ alpha: 0.05, position: 'none', scale: 'quasi-poisson' },
  factors: [{ column: 'spray', kind: 'randomised', unit: 'tray' }],
};

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
