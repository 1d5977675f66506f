import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { findingsOf, type FindingsInput } from '../../renderer/engine/findings';
import { harvested, swappedInputs } from '../builders/swappedRuns';
import { expectClose, readCsv } from './figures';

const near = (got: number, want: number) => expectClose(got, want, 1e-8, 'swapped runs');

// Source: R 4.2.2, tests/reference/make/31-swapped-runs.R.
const expected = JSON.parse(
  readFileSync(new URL('expected/31-swapped-runs.json', import.meta.url), 'utf8'),
) as Record<string, Record<string, number>>;

const truth = { run: 3, shelf: 2, shelfInRun: 1.5, plant: 3, light: 4, medium: 1, deadShare: 0 };
const runs = harvested(swappedInputs({ shelves: 4, runs: 3 }, 'reference'), truth, 'reference');

function found(input: FindingsInput) {
  const outcome = findingsOf(input, { primaryOnly: true });
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

describe('three runs with the lamps swapped', () => {
  const findings = found(runs);
  const { result } = findings.primary;

  it('are the table that the reference analysed', () => {
    const { columns } = readCsv('data/swapped_runs.csv', [
      'run',
      'place',
      'shelf',
      'lamps',
      'medium',
    ]);
    const own = findings.table.columns['response'] ?? [];
    expect(own).toHaveLength(144);
    own.forEach((value, i) => near(Number(value), Number(columns['response']?.[i])));
  });

  it('judge the lamps within shelves, runs taken out, and the media within each shelf of a run', () => {
    for (const name of ['run', 'lamps', 'medium', 'lamps × medium']) {
      const term = result.terms.find((row) => row.term === name);
      expect([term?.df, term?.dfError]).toEqual([
        expected[name]?.['df'],
        expected[name]?.['dfError'],
      ]);
      near(term?.statistic ?? NaN, expected[name]?.['F'] ?? NaN);
      near(term?.p ?? NaN, expected[name]?.['p'] ?? NaN);
    }
    const pair = result.comparisons.find(({ of }) => of.join() === 'lamps')?.rows[0];
    const { estimate = NaN, se = NaN, lower = NaN, upper = NaN } = expected['difference'] ?? {};
    near(pair?.difference ?? NaN, -estimate);
    near(pair?.se ?? NaN, se);
    near(pair?.lower ?? NaN, -upper);
    near(pair?.upper ?? NaN, -lower);
  });

  it('tell whether what the factors do differs between the runs', () => {
    for (const { factor, p } of findings.runs?.tests ?? []) {
      near(p ?? NaN, expected[`${factor} × run`]?.['p'] ?? NaN);
    }
    expect(findings.runs?.tests).toHaveLength(2);
  });
});

describe('two runs of two shelves', () => {
  const [first, second] = swappedInputs({ shelves: 2, runs: 2 }, 'kept');
  if (!first || !second) throw new Error('there are two runs');
  const { bound: _bound, ...alone } = second;

  it('judge lamps by nothing where each shelf kept its own: a shelf is one unit, however often used', () => {
    const kept = { ...alone, layout: first.layout };
    const { design } = found(harvested([first, kept], truth, 'kept'));
    expect(design.notReplicated.map((role) => role.factor.name)).toEqual(['lamps']);
    expect(design.tested.map((role) => role.factor.name)).toEqual(['medium']);
  });

  it('have lamps on two shelves each where they are swapped, and nothing left to judge them by', () => {
    const { design, primary } = found(harvested([first, second], truth, 'kept'));
    expect(design.notReplicated).toEqual([]);
    const lamps = primary.result.terms.find(({ term }) => term === 'lamps');
    expect(lamps?.p ?? null).toBeNull();
  });
});

describe('a run by itself', () => {
  it('is analysed as if there were no others', () => {
    const [first] = runs.all ?? [];
    if (!first) throw new Error('there are runs');
    const { all: _all, ...alone } = first;
    const findings = found(alone);
    expect(findings.runs).toBeNull();
    expect(findings.table.rowCount).toBe(48);
    expect(Object.keys(findings.table.columns)).not.toContain('run');
  });

  it('is what the answer is of while no other has values', () => {
    const [first, ...others] = runs.all ?? [];
    if (!first) throw new Error('there are runs');
    const records = { values: {}, second: {}, marks: {}, incidents: [] };
    const all = [first, ...others.map((run) => ({ ...run, records }))];
    const findings = found({ ...(all.at(-1) ?? first), all });
    expect(findings.table.rowCount).toBe(48);
    expect(findings.runs).toBeNull();
  });
});
