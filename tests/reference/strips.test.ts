import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { emptyPlan } from '../../renderer/document/new';
import { findingsOf, termOf } from '../../renderer/engine/findings';
import { unitsOf } from '../../renderer/engine/trial';
import { siteOf } from '../../renderer/engine/trial/site';
import { drawn, factorOf, inputOf, rackOf, trialOf } from '../engine/trial/sample';
import { levelNumbersOf, plannedStrata, testStrata } from '../engine/trial/strata-sums';

// Rice yields, six varieties on horizontal and three rates of nitrogen on vertical strips of three
// replications: Gomez & Gomez 1984, Statistical Procedures for Agricultural Research, 2nd ed., Wiley,
// p. 108–116; the analysis of variance is their table 3.15.
const published = [
  { term: ['f1'], df: 5, ms: 11_420_040, f: 7.65, dfError: 10, errorMs: 1_492_262 },
  { term: ['f2'], df: 2, ms: 25_338_031, f: 34.07, dfError: 4, errorMs: 743_727 },
  { term: ['f1', 'f2'], df: 10, ms: 2_387_798, f: 5.8, dfError: 20, errorMs: 411_646 },
];

const [, ...lines] = readFileSync(new URL('data/rice_strips.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n');
const rates = ['0', '60', '120'];
const rows = lines.map((line) => {
  const [grain, block, nitrogen, variety, column, row] = line.split(',');
  const tray = `t${block ?? ''}01`;
  // The columns of the three replications are counted on.
  const place = ((Number(column) - 1) % 3) + 1;
  return {
    potId: `${tray}:${row ?? ''}:${place}`,
    grain: Number(grain),
    levels: { f1: `l10${variety ?? ''}`, f2: `l20${rates.indexOf(nitrogen ?? '') + 1}` },
  };
});

const rack = rackOf({ shelves: 3, traysPerShelf: 1, rows: 6, columns: 3 });
const trial = trialOf([factorOf(1, 'row-strip', 6), factorOf(2, 'column-strip', 3)], {
  blocks: { by: 'tray' },
  scheme: 'strip-plot',
  measurements: [
    {
      id: 'm1',
      name: 'grain',
      kind: 'weight',
      unit: 'kg/ha',
      decimals: 0,
      moment: 'harvest',
      date: null,
      lowest: null,
      highest: null,
    },
  ],
  primaryMeasurementId: 'm1',
});

describe('strip plot of the rice', () => {
  it('has the published strata, mean squares and F', () => {
    const site = siteOf(inputOf(rack, trial));
    const byPot = new Map(rows.map((row) => [row.potId, row] as const));
    const levels = levelNumbersOf(site, (potId) => byPot.get(potId)?.levels);
    const y = Float64Array.from(site.pots, (pot) => byPot.get(pot.id)?.grain ?? NaN);
    const tests = testStrata(plannedStrata(site, levels), [y], new Uint8Array(54).fill(1));
    expect(tests.map((test) => test.factorIds)).toEqual(published.map(({ term }) => term));
    tests.forEach((test, i) => {
      const wanted = published[i];
      expect(test.df).toBe(wanted?.df);
      expect(test.dfError).toBe(wanted?.dfError);
      expect(test.f[0]).toBeCloseTo((wanted?.ms ?? NaN) / (wanted?.errorMs ?? NaN), 4);
    });
    // The same degrees of freedom are told before anything is drawn.
    const { skeleton } = unitsOf(inputOf(rack, trial));
    expect(skeleton.map((row) => row.df)).toEqual([2, 5, 10, 2, 4, 10, 20]);
  });

  it('is judged in the findings by strips and by their crossings', () => {
    const plan = emptyPlan('Rice');
    const outcome = findingsOf({
      rack,
      trial,
      layout: {
        scheme: 'strip-plot',
        seed: 'published',
        ...drawn,
        drawnFrom: '',
        candidates: 1,
        assignments: rows.map(({ potId, levels }) => ({
          potId,
          levels,
          block: `Tray ${potId.charAt(1)}A`,
          plant: null,
        })),
        swaps: [],
        plantedAt: null,
      },
      records: {
        ...plan.records,
        values: { m1: Object.fromEntries(rows.map((row) => [row.potId, row.grain])) },
      },
      ppfdByPot: new Map(),
      blockByPot: new Map(),
    });
    if (!outcome.ok) throw new Error(outcome.missing);
    const none = outcome.findings.positions.find((position) => position.model === 'none');
    if (!none) throw new Error('an analysis without position is expected');
    for (const { term, df, f, dfError } of published) {
      const names = term.map((id) => `Factor ${id.slice(1)}`);
      const row = termOf(none.result, names);
      expect(row?.df).toBe(df);
      expect(row?.statistic).toBeCloseTo(f, 2);
      expect(row?.dfError).toBeCloseTo(dfError, 6);
    }
  });
});
