import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { termOf } from '../../renderer/engine/findings';
import { unitsOf } from '../../renderer/engine/trial';
import { siteOf } from '../../renderer/engine/trial/site/siteOf';
import type { FitResult } from '../../shared-types/fit';
import type { Layout } from '../../shared-types/layout';
import type { Rack } from '../../shared-types/rack';
import { factorOf, inputOf, rackOf, trialOf } from '../builders/trialInput';
import { analysisOf } from './publishedLayout';
import { levelNumbersOf, plannedStrata, testStrata } from '../engine/trial/strataSums';

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
      timepoint: 'harvest',
      date: null,
      lowest: null,
      highest: null,
    },
  ],
  primaryOutcomeId: 'm1',
});

/** The analysis without position of values at the pots of a drawn layout. */
const positionNone = (
  on: Rack,
  assignments: Layout['assignments'],
  values: Record<string, number>,
): FitResult => analysisOf(on, trial, assignments, values);

const grains = (of: typeof rows) => Object.fromEntries(of.map((row) => [row.potId, row.grain]));

const asPublished = rows.map(({ potId, levels }) => ({
  potId,
  levels,
  block: `Tray ${potId.charAt(1)}A`,
  plant: null,
}));

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
    const result = positionNone(rack, asPublished, grains(rows));
    for (const { term, df, f, dfError } of published) {
      const row = termOf(
        result,
        term.map((id) => `Factor ${id.slice(1)}`),
      );
      expect(row?.df).toBe(df);
      expect(row?.statistic).toBeCloseTo(f, 2);
      expect(row?.dfError).toBeCloseTo(dfError, 6);
    }
  });

  it('keeps the strips as units when pots are lost', () => {
    // R 4.2.2 without rows 8 and 40, sum contrasts, RSS of qr(): x = model.matrix(~ block + variety *
    // nitrogen); variety is dropped from cbind(x, indicators of block:nitrogen) and judged by what the
    // indicators of block:variety add to that; nitrogen the other way round; both within both.
    const result = positionNone(
      rack,
      asPublished,
      grains(rows.filter((_, i) => i !== 7 && i !== 39)),
    );
    for (const [term, f, dfError] of [
      [['Factor 1'], 8.346136274, 10],
      [['Factor 2'], 35.1211726, 4],
      [['Factor 1', 'Factor 2'], 5.297543588, 18],
    ] as const) {
      const row = termOf(result, term);
      expect((row?.statistic ?? NaN) / f).toBeCloseTo(1, 8);
      expect(row?.dfError).toBe(dfError);
    }
  });

  it('judges crossings of several pots by crossings, not by pots', () => {
    // Strips two pots wide: each value of the rice stands in four pots, spread a little by pot. The F of
    // strips and crossings are then still the published ones.
    const wide = rackOf({ shelves: 3, traysPerShelf: 1, rows: 12, columns: 6 });
    const spread = [-30, 10, 25, -5];
    const pots = rows.flatMap((row) => {
      const [tray = '', r = '', c = ''] = row.potId.split(':');
      return spread.map((shift, i) => ({
        ...row,
        potId: `${tray}:${2 * Number(r) - (i % 2)}:${2 * Number(c) - Math.floor(i / 2)}`,
        grain: row.grain + shift,
      }));
    });
    const assignments = pots.map(({ potId, levels }) => ({
      potId,
      levels,
      block: `Tray ${potId.charAt(1)}A`,
      plant: null,
    }));
    const result = positionNone(wide, assignments, grains(pots));
    for (const { term, f, dfError } of published) {
      const row = termOf(
        result,
        term.map((id) => `Factor ${id.slice(1)}`),
      );
      expect(row?.statistic).toBeCloseTo(f, 2);
      expect(row?.dfError).toBeCloseTo(dfError, 6);
    }
  });
});
