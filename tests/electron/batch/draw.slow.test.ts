import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { checkVerb } from '../../../electron/batch/verbs/check';
import { drawVerb } from '../../../electron/batch/verbs/draw';
import { runBatch } from '../../../electron/batch/run';
import { emptyPlan } from '../../../renderer/document/new';
import { writeCompact } from '../../../renderer/document/open';
import { planSchema, type Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import { factorOf, rackOf, trialOf, withTimes } from '../../builders/trialInput';
import { tempFolder } from '../tempFolder';

async function call(plan: Plan, ...words: string[]) {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, writeCompact(plan));
  let [out, err] = ['', ''];
  const [verb = '', ...rest] = words;
  const code = await runBatch([verb, path, ...rest], [drawVerb, checkVerb], {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  return { code, out, err: err.replace(path, 'PLAN') };
}

const planOf = (rack: Rack, factors: Factor[], more: Partial<Trial> = {}): Plan =>
  planSchema.parse({
    ...emptyPlan('Draw'),
    nextId: 100_000,
    rack,
    trial: trialOf(factors, more),
  });

interface Drawn {
  pots: Record<string, string | null>[];
  shared: string;
  efficiency: number | null;
  candidates: number;
}

const drawn = async (plan: Plan, seed = 'seed'): Promise<Drawn> => {
  const { code, out, err } = await call(plan, 'draw', '--seed', seed);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return JSON.parse(out) as Drawn;
};

/** Refused with one line that names the place and has both what was found and what would fit. */
const refusal = async (plan: Plan, seed = 'seed'): Promise<string> => {
  const { code, out, err } = await call(plan, 'draw', '--seed', seed);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err.trimEnd()).not.toContain('\n');
  expect(err).not.toMatch(/NaN|undefined|Infinity|\[object|\bat .*:\d+:\d+/);
  const checked = await call(plan, 'check');
  expect(checked.code).toBe(0);
  return err.trimEnd();
};

const shelves = rackOf({ shelves: 3, traysPerShelf: 2, rows: 2, columns: 3 });
const byShelf = { blocks: { by: 'shelf' }, scheme: 'complete-blocks' } as const;

describe('the table of a draw', () => {
  it('has exactly the promised columns, in CSV and in JSON', async () => {
    const factors = [
      { ...factorOf(1, 'pot', 3), name: 'feed, weak' },
      { ...factorOf(2, 'pot', 2), name: '2' },
    ];
    const plan = planOf(shelves, factors, byShelf);
    const { out } = await call(plan, 'draw', '--seed', 'csv', '--csv');
    const { data, errors } = Papa.parse<string[]>(out.trimEnd());
    expect(errors).toEqual([]);
    expect(data[0]).toEqual(['pot', 'block', 'unit', 'treatment', 'feed, weak', '2', 'plant']);
    expect(data).toHaveLength(37);
    const { pots } = await drawn(plan, 'csv');
    pots.forEach((row, i) => {
      const cells = data[0]?.map((name) => row[name] ?? '');
      expect(data[i + 1]).toEqual(cells);
    });
  });

  it('guards names that a spreadsheet would run as a formula', async () => {
    const factor = { ...factorOf(1, 'pot', 2), name: '=feed' };
    const levels = factor.levels.map((level, i) => ({ ...level, name: i === 0 ? '+N' : '-N' }));
    const plan = planOf(shelves, [{ ...factor, levels }], byShelf);
    const { out } = await call(plan, 'draw', '--seed', 'csv', '--csv');
    const rows = Papa.parse<string[]>(out.trimEnd()).data.map((cells) => cells[4]);
    expect([...new Set(rows)].sort()).toEqual(["'+N", "'-N", "'=feed"]);
  });

  it('keeps its own columns apart from factors of the same name', async () => {
    const names = ['pot', 'plant', 'treatment'];
    const factors = names.map((name, i) => ({ ...factorOf(i + 1, 'pot', 2), name }));
    const plan = planOf(
      rackOf({ shelves: 2, traysPerShelf: 1, rows: 2, columns: 4 }),
      factors,
      byShelf,
    );
    const { out } = await call(plan, 'draw', '--seed', 'csv', '--csv');
    const { data } = Papa.parse<string[]>(out.trimEnd());
    expect(data[0]).toEqual([
      'pot',
      'block',
      'unit',
      'treatment',
      'pot (factor)',
      'plant (factor)',
      'treatment (factor)',
      'plant',
    ]);
    expect(data[1]?.[0]).toBe('1A-A1');
    expect(data[1]?.[4]).toMatch(/^Level [12]$/);
  });

  it('names the strips of a strip plot as units', async () => {
    const plan = planOf(shelves, [factorOf(1, 'row-strip', 2), factorOf(2, 'column-strip', 3)], {
      blocks: { by: 'tray' },
      scheme: 'strip-plot',
    });
    const { pots } = await drawn(plan);
    expect(pots[0]).toMatchObject({ pot: '1A-A1', unit: 'Tray 1A row 1 × column 1' });
  });

  it('is the same for the same seed and another for another, whatever signs the seed has', async () => {
    const plan = planOf(shelves, [factorOf(1, 'pot', 3)], byShelf);
    const seeds = ['a', 'A', ' a', '0', '-1', 'ä', '雨', '🌱🌱', 'x'.repeat(200), '\'"`$\\'];
    const tables = await Promise.all(
      seeds.map(async (seed) => JSON.stringify((await drawn(plan, seed)).pots)),
    );
    expect(new Set(tables).size).toBe(seeds.length);
    expect(JSON.stringify((await drawn(plan, '雨')).pots)).toBe(tables[6]);
    expect(await refusal(plan, '')).toContain('seed');
    expect(await refusal(plan, 'x'.repeat(201))).toContain('201');
  });

  it('leaves out holes and guard pots', async () => {
    const rack = structuredClone(rackOf({ shelves: 2, traysPerShelf: 1, rows: 4, columns: 5 }));
    for (const shelf of rack.shelves) {
      const grid = shelf.trays[0]?.grid;
      if (grid) Object.assign(grid, { empty: ['1:1', '2:2'], guards: ['4:5', '3:3', '1:2'] });
    }
    const { pots } = await drawn(planOf(rack, [factorOf(1, 'pot', 3)], byShelf));
    expect(pots).toHaveLength(30);
    const gone = ['A1', 'B2', 'D5', 'C3', 'A2'];
    expect(pots.some((row) => gone.includes(row.pot?.split('-')[1] ?? ''))).toBe(false);
    const counts = ['Level 1', 'Level 2', 'Level 3'].map(
      (level) => pots.filter((row) => row['Factor 1'] === level).length,
    );
    expect(counts).toEqual([10, 10, 10]);
  });

  it('holds unequal numbers where the plan asks for them', async () => {
    const plan = planOf(shelves, [withTimes(factorOf(1, 'pot', 5), { 1: 2 })], byShelf);
    const { pots } = await drawn(plan);
    for (const block of ['Shelf 1', 'Shelf 2', 'Shelf 3']) {
      const own = pots.filter((row) => row.block === block);
      expect(own.filter((row) => row['Factor 1'] === 'Level 1')).toHaveLength(4);
    }
  });

  it('tells the efficiency factor of incomplete blocks, and of rows and columns', async () => {
    // Seven in seven blocks of three: λt/(rk) = 7/9 (Fisher & Yates, table XVII).
    const blocks = planOf(
      rackOf({ shelves: 7, traysPerShelf: 1, rows: 1, columns: 3 }),
      [factorOf(1, 'pot', 7)],
      {
        blocks: { by: 'tray' },
        scheme: 'incomplete-blocks',
      },
    );
    expect((await drawn(blocks)).efficiency).toBeCloseTo(7 / 9, 10);
    const square = planOf(
      rackOf({ shelves: 2, traysPerShelf: 1, rows: 4, columns: 4 }),
      [factorOf(1, 'pot', 4)],
      {
        scheme: 'row-and-column',
      },
    );
    expect((await drawn(square)).efficiency).toBeCloseTo(1, 10);
    expect((await drawn(planOf(shelves, [factorOf(1, 'pot', 3)], byShelf))).efficiency).toBeNull();
  });

  it('says whether shelves are drawn on their own', async () => {
    const apart = await drawn(planOf(shelves, [factorOf(1, 'pot', 3)], byShelf));
    expect(apart.shared).toBe(
      'Every shelf is drawn on its own: an added shelf leaves the others as they are.',
    );
    const whole = await drawn(planOf(shelves, [factorOf(1, 'pot', 3)]));
    expect(whole.shared).toContain('another shelf would change the others');
  });
});

describe('a draw at the edge of what is possible', () => {
  const one = rackOf({ shelves: 1, traysPerShelf: 1, rows: 1, columns: 1 });

  it('takes a single pot, and a factor of one level', async () => {
    const { pots } = await drawn(planOf(one, [factorOf(1, 'pot', 1)]));
    expect(pots).toHaveLength(1);
    const several = await drawn(planOf(shelves, [factorOf(1, 'pot', 1)], byShelf));
    expect(new Set(several.pots.map((row) => row.treatment)).size).toBe(1);
  });

  it('takes fifty levels, and blocks larger than the treatments', async () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 1, rows: 10, columns: 10 });
    const { pots } = await drawn(planOf(rack, [factorOf(1, 'pot', 50)], byShelf));
    const counts = new Map<string, number>();
    for (const row of pots) {
      const key = `${row.block ?? ''} ${row['Factor 1'] ?? ''}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    expect([...counts.values()]).toEqual(Array.from({ length: 100 }, () => 2));
  });

  it('takes blocks smaller than the treatments as incomplete blocks', async () => {
    const rack = rackOf({ shelves: 5, traysPerShelf: 2, rows: 2, columns: 5 });
    const plan = planOf(rack, [factorOf(1, 'pot', 50)], {
      blocks: { by: 'tray' },
      scheme: 'incomplete-blocks',
    });
    const { pots } = await drawn(plan);
    expect(new Set(pots.map((row) => row['Factor 1'])).size).toBe(50);
    expect(
      await refusal({ ...plan, trial: { ...trialIn(plan), scheme: 'complete-blocks' } }),
    ).toContain('Tray 1A holds 10 pots for 50 treatments; 10 of 10 such groups are too small');
  });

  it.each<[string, Plan, string[]]>([
    ['no factors', planOf(shelves, []), ['no factors', 'at least one is expected']],
    [
      'no pots',
      planOf(rackOf({ shelves: 1, traysPerShelf: 0, rows: 1, columns: 1 }), [
        factorOf(1, 'pot', 2),
      ]),
      ['no measured pot', 'Give at least one tray'],
    ],
    [
      'two levels for one pot',
      planOf(one, [factorOf(1, 'pot', 2)]),
      ['2 treatments are to be shared among 1 pot', 'Use fewer levels'],
    ],
    [
      'two levels for one shelf',
      planOf(one, [factorOf(1, 'shelf', 2)]),
      ['among 1 shelf', 'add shelves'],
    ],
    [
      'blocks by light in the dark',
      planOf(shelves, [factorOf(1, 'pot', 2)], {
        blocks: { by: 'light', bands: 3 },
        scheme: 'complete-blocks',
      }),
      ['the same at every measured pot, 0', 'choose other blocks'],
    ],
    [
      'more bands of light than pots',
      planOf(one, [factorOf(1, 'pot', 2)], {
        blocks: { by: 'light', bands: 200 },
        scheme: 'incomplete-blocks',
      }),
      ['the same at every measured pot'],
    ],
    [
      'a Latin square that is none',
      planOf(shelves, [factorOf(1, 'pot', 3)], { scheme: 'latin-square' }),
      ['2 × 3 pots', 'needs a multiple of 3 both ways', 'row-and-column'],
    ],
    [
      'blocks of one pot',
      planOf(shelves, [factorOf(1, 'pot', 2)], {
        blocks: { by: 'columns', perBlock: 1 },
        scheme: 'split-plot',
      }),
      ['two kinds of unit', 'Choose complete blocks'],
    ],
    [
      'a cap that is out of reach',
      planOf(
        rackOf({ shelves: 1, traysPerShelf: 1, rows: 1, columns: 5 }),
        [factorOf(1, 'pot', 1)],
        { constraint: { acceptanceShare: 1, balance: [], likeNeighbours: 2 } },
      ),
      ['the least that was reached is 5', 'Allow 5'],
    ],
    [
      'too many treatments',
      planOf(
        shelves,
        Array.from({ length: 8 }, (_, i) => factorOf(i + 1, 'pot', 50)),
      ),
      ['39062500000000 treatments', 'fewer'],
    ],
    [
      'too many factors',
      planOf(
        shelves,
        Array.from({ length: 40 }, (_, i) => factorOf(i + 1, 'pot', 1)),
      ),
      ['40 factors', 'fewer'],
    ],
  ])('says why %s can’t be drawn', async (_, plan, words) => {
    const said = await refusal(plan);
    for (const word of words) expect(said).toContain(word);
  });

  it('says so where there is no trial, and where times are nonsense', async () => {
    expect(await refusal({ ...emptyPlan('None'), trial: null })).toContain('no trial is planned');
    const plan = planOf(shelves, [factorOf(1, 'pot', 3)], byShelf);
    for (const times of [0, -1, 1.5, 'two', 51]) {
      const bad = structuredClone(plan);
      const level = bad.trial?.factors[0]?.levels[0];
      if (level) Reflect.set(level, 'times', times);
      const { code, err } = await call(bad, 'draw', '--seed', 'x');
      expect(code).toBe(2);
      expect(err).toContain('times');
    }
  });
});

function trialIn(plan: Plan): Trial {
  if (!plan.trial) throw new Error('a trial is expected');
  return plan.trial;
}
