import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { emptyPlan } from '../../renderer/document/new';
import {
  effectSize,
  findingsOf,
  findingsOfTable,
  paragraph,
  partialEtaSquared,
  randomisationTest,
  sensitivityOf,
  termOf,
  trendContrasts,
  type Findings,
} from '../../renderer/engine/findings';
import { drawnFromOf } from '../../renderer/engine/trial/draw/drawnFrom';
import { siteOf } from '../../renderer/engine/trial/site/siteOf';
import { potsOfRack } from '../../renderer/engine/geometry';
import { uniformityExample } from '../../build/examples/uniformity';
import type { Plan } from '../../shared-types/plan';
import type { Shelf } from '../../shared-types/rack';
import { tableReading } from '../builders/tableReading';

function read(path: string): string {
  return readFileSync(new URL(path, import.meta.url), 'utf8');
}

function findings(plan: Plan, ppfdByPot = new Map<string, number>()): Findings {
  if (!plan.trial) throw new Error('the plan has a trial');
  const blockByPot = new Map(
    potsOfRack(plan.rack).map((pot) => [pot.id, `Tray ${pot.code.split('-')[0] ?? ''}`]),
  );
  const outcome = findingsOf({
    rack: plan.rack,
    zones: [],
    trial: plan.trial,
    layout: plan.layout,
    records: plan.records,
    ppfdByPot,
    blockByPot,
  });
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

// Heath, O. V. S. (1970) Investigation by Experiment, Table 1; the edge figures as computed in
// tests/reference/fit/radish-edge-and-moran/expected.json (its own source and calls are there).
describe('radishes grown alike in four basins', () => {
  const plan = uniformityExample(read('uniformity/heath.radish.uniformity.csv'));
  const { expected } = JSON.parse(read('fit/radish-edge-and-moran/expected.json')) as {
    expected: {
      n: number;
      terms: { term: string; statistic: number; p: number }[];
      means: { rows: { place: string; mean: number }[] }[];
      comparisons: { rows: { difference: number; se: number; lower: number; upper: number }[] }[];
      checks: { moran: { i: number; p: number } };
    };
  };
  const found = findings(plan);

  it('leaves out the one missing plant and no other', () => {
    expect(found.primary.result.n).toBe(expected.n);
    expect(found.leftOut.map(({ pot, why }) => [pot.code, why])).toEqual([['1C-H5', 'missing']]);
  });

  it('gives the published edge effect with its interval', () => {
    const row = expected.comparisons[0]?.rows[0];
    expect(found.edge?.difference).toBeCloseTo(row?.difference ?? Number.NaN, 9);
    expect(found.edge?.se).toBeCloseTo(row?.se ?? Number.NaN, 9);
    expect(found.edge?.lower).toBeCloseTo(row?.lower ?? Number.NaN, 7);
    expect(found.edge?.upper).toBeCloseTo(row?.upper ?? Number.NaN, 7);
    const means = expected.means[0]?.rows ?? [];
    expect(found.edge?.edgeMean).toBeCloseTo(means[0]?.mean ?? Number.NaN, 9);
    expect(found.edge?.innerMean).toBeCloseTo(means[1]?.mean ?? Number.NaN, 9);
    const place = expected.terms.find((t) => t.term === 'place');
    const term = termOf(found.primary.result, ['place']);
    expect(term?.statistic).toBeCloseTo(place?.statistic ?? Number.NaN, 8);
  });

  it('finds no likeness among neighbours once the edge is allowed for', () => {
    const moran = found.primary.result.checks['moran'];
    expect(moran?.['i']).toBeCloseTo(expected.checks.moran.i, 6);
    expect(moran?.['p']).toBeCloseTo(expected.checks.moran.p, 4);
  });

  it('says it in a sentence with the figures of the book, 9.36 g and 5.80 g, as their intervals ask', () => {
    expect(paragraph(found)).toContain('edge 9.4 g, inner 5.8 g, difference 3.6 g (95 % interval');
  });
});

// Yates, F. (1935) Complex experiments, Suppl. J. R. Stat. Soc. 2:181–247; the analysis of
// variance as in tests/reference/trade-facts.md 7.9 F.
describe('oats as a rack: six shelves as blocks, a variety a tray, nitrogen by pot', () => {
  const plan = oatsPlan();
  const found = findings(plan);

  it('judges varieties by trays and nitrogen by pots, in exact strata', () => {
    const { result } = found.positions.find((p) => p.model === 'none') ?? found.primary;
    const variety = termOf(result, ['variety']);
    const nitrogen = termOf(result, ['nitrogen']);
    const both = termOf(result, ['variety', 'nitrogen']);
    expect(variety?.ss).toBeCloseTo(1786.361111, 5);
    expect(variety?.statistic).toBeCloseTo(1.485340379, 8);
    expect(variety?.dfError).toBe(10);
    expect(variety?.p).toBeCloseTo(0.2723868567, 9);
    expect(nitrogen?.ss).toBeCloseTo(20020.5, 7);
    expect(nitrogen?.statistic).toBeCloseTo(37.68564706, 7);
    expect(nitrogen?.dfError).toBe(45);
    expect(both?.statistic).toBeCloseTo(0.3028235294, 9);
  });

  it('says which difference the varieties’ interval still allows, not that there is none', () => {
    const words = paragraph(found);
    expect(words).toContain('A difference between levels of variety is not shown');
    expect(words).toMatch(/The data still allow differences as large as [0-9.]+ bushels/);
    expect(words).not.toMatch(/no effect|no difference|does not matter/i);
  });

  it('keeps the trays as units once a plot is lost', () => {
    const harvest = { ...plan.records.values['m1'] };
    delete harvest['t11:1:1'];
    const gap = findings({ ...plan, records: { ...plan.records, values: { m1: harvest } } });
    const result = gap.positions.find((p) => p.model === 'none')?.result;
    expect(result?.n).toBe(71);
    // R 4.2.2 without the first row, sum contrasts, RSS of qr(): x = model.matrix(~ Block + Variety *
    // nitro); Variety is dropped from x and judged by what the indicators of Block:Variety add to x;
    // nitro is dropped from both together and judged by what they leave.
    for (const [name, f, dfError] of [
      ['variety', 1.56225379549, 10],
      ['nitrogen', 34.6286067383, 44],
    ] as const) {
      const row = result && termOf(result, [name]);
      expect(row?.statistic).toBeCloseTo(f, 8);
      expect(row?.dfError).toBe(dfError);
    }
  });
});

describe('the oats compared as planned', () => {
  const oats = oatsPlan();
  const factors = (oats.trial?.factors ?? []).map((factor) =>
    factor.id === 'f2'
      ? {
          ...factor,
          contrasts: trendContrasts(factor, 3).map((one) => ({
            ...one,
            preSpecified: true as const,
          })),
        }
      : factor,
  );
  const analysisLocked = { date: '1935-01-01', valuesThen: 0 };
  const found = findings(withTrial(oats, { factors, analysisLocked }));

  // tests/reference/expected/04-strata-mixed.json, oats: strata_linear_nitrogen and strata.
  it('gives the recorded sum of squares to the slope over nitrogen', () => {
    const { contrasts } = found.primary.result;
    expect(contrasts.map((row) => row.name)).toEqual(['slope', 'curvature', 'third degree']);
    const [slope, ...others] = contrasts.map((row) => row.statistic ** 2 * 177.0833333333333);
    expect(slope).toBeCloseTo(19536.4, 5);
    const rest = others.reduce((sum, value) => sum + value, 0);
    expect((slope ?? 0) + rest).toBeCloseTo(20020.5, 5);
    expect(contrasts[0]?.df).toBe(45);
    // 73.67 bushels per cwt: the least-squares line through the four recorded means.
    expect(contrasts[0]?.estimate).toBeCloseTo(73.66667, 4);
  });

  it('says the slope with its interval, and shows it under every position model', () => {
    expect(paragraph(found)).toContain('The planned comparison slope of nitrogen is 74 bushels');
    const row = sensitivityOf(found).find((r) => r.label === 'slope');
    expect(row?.planned).toBe(true);
    // Here the columns follow the doses, so that a slope over columns leaves none over doses.
    const able = found.positions.map((p) => p.model).filter((model) => model !== 'linear');
    expect(row?.cells.map((c) => c.model)).toEqual(able);
    // Place within trays has no say on what was laid on whole trays.
    const variety = sensitivityOf(found).find((r) => r.factor === 'variety');
    expect(variety?.cells.map((c) => c.model)).toEqual(['none']);
    expect(variety?.unable).toEqual(found.positions.map((p) => p.model).slice(1));
  });

  it('gives the share of squares that a term explains beside its own error', () => {
    const result = found.positions.find((p) => p.model === 'none')?.result;
    const nitrogen = result && termOf(result, ['nitrogen']);
    const share = nitrogen && partialEtaSquared(nitrogen);
    expect(share).toBeCloseTo(20020.5 / (20020.5 + 7968.75), 9);
  });

  it('gives a difference over the standard deviation among pots, and in per cent', () => {
    const result = found.positions.find((p) => p.model === 'none')?.result;
    const row = result?.comparisons
      .find((c) => c.of[0] === 'nitrogen')
      ?.rows.find((r) => r.a === '0 cwt' && r.b === '0.2 cwt');
    if (!result || !row) throw new Error('the two lowest doses are compared');
    const size = effectSize(result, 'nitrogen', row);
    // Means 79.389 and 98.889 bushels, residual mean square 177.083 (04-strata-mixed.json, oats).
    expect(size.standardised?.value).toBeCloseTo(-19.5 / Math.sqrt(177.0833333333), 8);
    expect(size.percent?.value).toBeCloseTo((-100 * 19.5) / 98.8888888889, 8);
  });

  it('compares with a control after Dunnett once one is chosen', () => {
    const controlled = factors.map((f) => (f.id === 'f2' ? { ...f, control: 'n1' } : f));
    const { result } = findings(withTrial(oats, { factors: controlled })).primary;
    const dunnett = result.comparisons.find((c) => c.method === 'dunnett' && c.by.length === 0);
    expect(dunnett?.rows.map((row) => [row.a, row.b])).toEqual([
      ['0.2 cwt', '0 cwt'],
      ['0.4 cwt', '0 cwt'],
      ['0.6 cwt', '0 cwt'],
    ]);
    expect(dunnett?.rows[0]?.difference).toBeCloseTo(19.5, 9);
    const byVariety = result.comparisons.find(
      (c) => c.method === 'dunnett' && c.by[0] === 'variety',
    );
    expect(byVariety?.rows).toHaveLength(9);
  });
});

describe('the oats as a table from elsewhere', () => {
  it('gives the published analysis of the split plot once the columns are named', () => {
    const [header = '', ...lines] = read('data/oats.csv').trim().split(/\r?\n/);
    const names = header.split(',');
    const cells = lines.map((line) => line.split(','));
    const column = (name: string) => cells.map((row) => row[names.indexOf(name)] ?? '');
    const outcome = findingsOfTable(
      {
        rowCount: cells.length,
        columns: {
          Block: column('Block'),
          Variety: column('Variety'),
          nitro: column('nitro'),
          plot: cells.map((row) => `${row[names.indexOf('Variety')] ?? ''} plot`),
          yield: column('yield').map(Number),
        },
      },
      tableReading({
        title: 'oats',
        response: 'yield',
        unit: 'bushels',
        factors: [
          { column: 'Variety', kind: 'randomised', unit: 'tray' },
          { column: 'nitro', kind: 'randomised', unit: 'pot' },
        ],
        block: 'Block',
        shelf: 'Block',
        tray: 'plot',
      }),
    );
    if (!outcome.ok) throw new Error(outcome.missing);
    const { result } = outcome.findings.primary;
    expect(termOf(result, ['Variety'])?.statistic).toBeCloseTo(1.485340379, 8);
    expect(termOf(result, ['Variety'])?.dfError).toBe(10);
    expect(termOf(result, ['nitro'])?.statistic).toBeCloseTo(37.68564706, 7);
  });
});

// tests/reference/expected/11-randomisation.json, oats_without_nitrogen: every arrangement listed.
describe('the layout drawn again', () => {
  const plan = withoutNitrogen();
  const input = (of: Plan) => {
    if (!of.trial) throw new Error('the plan has a trial');
    const data = {
      rack: of.rack,
      trial: of.trial,
      ppfdByPot: new Map<string, number>(),
      startByPot: new Map<string, number>(),
      ppfdAtDraw: new Map<string, number>(),
      zones: [],
    };
    const layout = of.layout && { ...of.layout, drawnFrom: drawnFromOf(siteOf(data)) };
    return { ...data, layout, records: of.records, blockByPot: new Map<string, string>() };
  };
  const asked = { measurementId: null, index: null, factorIds: ['f1'], runs: 4000, seed: 'a' };

  it('lists all 46,656 layouts of three varieties in six blocks and counts as recorded', () => {
    const found = randomisationTest(input(plan), asked);
    expect(found.exact).toBe(true);
    expect(found.runs).toBe(46656);
    expect(found.asExtreme).toBe(10338);
    expect(found.observed).toBeCloseTo(1.8824274597333555, 9);
    expect(found.p).toBeCloseTo(0.22157921810699588, 12);
    // The three varieties can be named in 3! ways without a change of F.
    expect(found.leastP).toBeCloseTo(6 / 46656, 12);
  });

  it('comes near it by chance where a limit on neighbours forbids listing', () => {
    // A cap of 50 forbids no layout, so that the distribution is that of the full list.
    const constraint = { acceptanceShare: 1, balance: [], likeNeighbours: 50 };
    const told: number[] = [];
    const found = randomisationTest(input(withTrial(plan, { constraint })), asked, (done) =>
      told.push(done),
    );
    expect(found.exact).toBe(false);
    expect(found.runs).toBe(4000);
    // Three standard errors of a share of 0.2216 in 4,000 draws.
    expect(Math.abs(found.p - 0.2216)).toBeLessThan(0.0198);
    expect(told.length).toBeGreaterThan(10);
    expect(found.sample.length).toBeLessThanOrEqual(2000);
  });

  it('is refused, with the reason, for a given factor and for a plan that changed', () => {
    const factors = (plan.trial?.factors ?? []).map((f) => ({ ...f, kind: 'fixed' as const }));
    const given = input(plan);
    const data = { ...given, trial: { ...given.trial, factors } };
    expect(() =>
      randomisationTest(
        {
          ...data,
          layout: data.layout && { ...data.layout, drawnFrom: drawnFromOf(siteOf(data)) },
        },
        asked,
      ),
    ).toThrow(/nobody drew/);
    const stale = input(plan);
    expect(() =>
      randomisationTest(
        { ...stale, layout: stale.layout && { ...stale.layout, drawnFrom: 'x' } },
        asked,
      ),
    ).toThrow(/changed since the draw/);
  });
});

function withTrial(plan: Plan, change: Partial<NonNullable<Plan['trial']>>): Plan {
  return plan.trial ? { ...plan, trial: { ...plan.trial, ...change } } : plan;
}

/** The plots without nitrogen: a pot of each variety in a tray on each of six shelves. */
function withoutNitrogen(): Plan {
  const plan = oatsPlan();
  const shelves = plan.rack.shelves.map((shelf, s) => ({
    ...shelf,
    trays: shelf.trays.slice(0, 1).map((tray) => ({
      ...tray,
      grid: tray.grid && { ...tray.grid, columns: 3 },
      id: `t${(s + 1) * 10 + 1}`,
    })),
  }));
  const values: Record<string, number> = {};
  const assignments = [1, 2, 3, 4, 5, 6].flatMap((b) =>
    [1, 2, 3].map((v) => {
      const potId = `t${b * 10 + 1}:1:${v}`;
      values[potId] = plan.records.values['m1']?.[`t${b * 10 + v}:1:1`] ?? Number.NaN;
      return { potId, block: `Shelf ${b}`, levels: { f1: `v${v}` }, plant: null };
    }),
  );
  const factors = (plan.trial?.factors ?? [])
    .filter((factor) => factor.id === 'f1')
    .map((factor) => ({ ...factor, unit: 'pot' as const }));
  const next = withTrial(plan, { factors, scheme: 'complete-blocks' });
  return {
    ...next,
    rack: { ...plan.rack, shelves },
    layout: next.layout && { ...next.layout, scheme: 'complete-blocks', assignments },
    records: { ...plan.records, values: { m1: values } },
  };
}

function oatsPlan(): Plan {
  const [header, ...lines] = read('data/oats.csv').trim().split(/\r?\n/);
  const names = (header ?? '').split(',');
  const rows = lines.map((line) => {
    const cells = line.split(',');
    const cell = (name: string) => cells[names.indexOf(name)] ?? '';
    return {
      block: cell('Block'),
      variety: cell('Variety'),
      nitrogen: cell('nitro'),
      yield: Number(cell('yield')),
    };
  });
  const blocks = [...new Set(rows.map((r) => r.block))];
  const varieties = [...new Set(rows.map((r) => r.variety))];
  const doses = [...new Set(rows.map((r) => r.nitrogen))];
  const shelves = blocks.map((_, b): Shelf => ({
    id: `s${b + 1}`,
    number: b + 1,
    widthMm: 1200,
    depthMm: 500,
    heightMm: b * 400,
    clearanceMm: 380,
    ratedLoadKg: null,
    canopy: { plantingMm: 50, harvestMm: 100 },
    reflectances: { above: 0, canopy: 0, front: 0, back: 0, left: 0, right: 0 },
    lamps: [],
    trays: varieties.map((_, v) => ({
      id: `t${(b + 1) * 10 + v + 1}`,
      letter: 'ABC'.charAt(v),
      xMm: v * 400,
      yMm: 0,
      widthMm: 380,
      depthMm: 120,
      rimHeightMm: 50,
      grid: {
        pattern: 'square',
        rows: 1,
        columns: doses.length,
        pitchXMm: 90,
        pitchYMm: 90,
        potDiameterMm: 80,
        potHeightMm: 80,
        firstXMm: 55,
        firstYMm: 60,
        guardRing: false,
        guards: [],
        empty: [],
      },
    })),
  }));
  const values: Record<string, number> = {};
  const assignments = rows.map((row) => {
    const b = blocks.indexOf(row.block) + 1;
    const v = varieties.indexOf(row.variety) + 1;
    const n = doses.indexOf(row.nitrogen) + 1;
    const potId = `t${b * 10 + v}:1:${n}`;
    values[potId] = row.yield;
    return { potId, block: row.block, levels: { f1: `v${v}`, f2: `n${n}` }, plant: null };
  });
  return {
    ...emptyPlan('Oats'),
    rack: { shelves, lampKinds: [] },
    trial: {
      question: '',
      factors: [
        {
          id: 'f1',
          name: 'variety',
          kind: 'randomised',
          unit: 'tray',
          levels: varieties.map((name, i) => ({ id: `v${i + 1}`, name })),
          where: [],
        },
        {
          id: 'f2',
          name: 'nitrogen',
          kind: 'randomised',
          unit: 'pot',
          levels: doses.map((name, i) => ({ id: `n${i + 1}`, name: `${name} cwt` })),
          where: [],
        },
      ],
      measurements: [
        {
          id: 'm1',
          name: 'Yield',
          kind: 'weight',
          unit: 'bushels',
          decimals: 0,
          timepoint: 'harvest',
          date: null,
          lowest: null,
          highest: null,
        },
      ],
      blocks: { by: 'shelf' },
      scheme: 'split-plot',
      constraint: { acceptanceShare: 1, balance: [], likeNeighbours: null },
      startDate: null,
      harvestDate: null,
      alpha: 0.05,
      primaryOutcomeId: 'm1',
      primaryIndex: 'final',
      primaryPosition: 'none',
      startCovariate: false,
      expected: null,
    },
    layout: {
      scheme: 'split-plot',
      seed: 'as published',
      drawnAt: '1935-01-01T00:00:00Z',
      engineVersion: 'none',
      drawnFrom: '',
      candidates: 1,
      assignments,
      swaps: [],
      plantedAt: null,
    },
    records: { values: { m1: values }, second: {}, marks: {}, incidents: [] },
  };
}
