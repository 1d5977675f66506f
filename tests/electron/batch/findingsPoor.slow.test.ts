import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findingsVerb } from '../../../electron/batch/verbs/findings';
import { readArguments } from '../../../electron/batch/verb';
import { writePlan } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import { smallBasil } from '../../builders/smallBasil';
import { tempFolder } from '../tempFolder';

// Poor and hostile records of the basil trial: the answer may be that nothing can be said, but never
// a figure that is none, and never a program's trouble in place of a sentence.

const basil = smallBasil();
const [START, HARVEST] = ['m60', 'm62'];
const harvest = basil.records.values[HARVEST] ?? {};
const levelsOf = new Map(basil.layout?.assignments.map((a) => [a.potId, a.levels]));

interface Found {
  averaged: { units: string[] } | null;
  paragraph: string;
  leftOut: { pot: string; why: string }[];
  refused: { model: string; reason: string }[];
}

async function findings(plan: Plan): Promise<Found> {
  const path = join(await tempFolder(), 'plan.evenrack');
  await writeFile(path, writePlan(plan));
  return (await findingsVerb.run(readArguments(findingsVerb, [path]))) as Found;
}

function withValues(id: string, values: Record<string, number>): Plan {
  return {
    ...basil,
    records: { ...basil.records, values: { ...basil.records.values, [id]: values } },
  };
}

const mapped = (change: (value: number, potId: string, i: number) => number | null) =>
  Object.fromEntries(
    Object.entries(harvest).flatMap(([id, value], i) => {
      const next = change(value, id, i);
      return next === null ? [] : [[id, next]];
    }),
  );

/** Every figure of the answer is one; JSON turns NaN into null, so the objects are walked. */
function notNumbers(value: unknown, path = ''): string[] {
  if (typeof value === 'number') return Number.isNaN(value) ? [path] : [];
  if (typeof value === 'string') return /NaN|undefined|Infinity/.test(value) ? [path] : [];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => notNumbers(inner, `${path}.${key}`));
}

function withTrial(plan: Plan, change: Partial<NonNullable<Plan['trial']>>): Plan {
  return plan.trial ? { ...plan, trial: { ...plan.trial, ...change } } : plan;
}

function scaled(plan: Plan, scale: 'log' | 'poisson' | 'sqrt'): Plan {
  const measurements = (plan.trial?.measurements ?? []).map((m) =>
    m.id === HARVEST ? { ...m, scale } : m,
  );
  return withTrial(plan, { measurements });
}

describe('records that bear no analysis', () => {
  const refused: [string, Plan, RegExp][] = [
    ['no harvest', withValues(HARVEST, {}), /No value of Fresh weight has been recorded/],
    [
      'one value',
      withValues(HARVEST, { 't22:2:2': 40 }),
      /Only 1 pot has a value of Fresh weight that can be used/,
    ],
    [
      'one and the same value',
      withValues(
        HARVEST,
        mapped(() => 40),
      ),
      /nothing varies/,
    ],
    [
      'a zero on a log scale',
      scaled(
        withValues(
          HARVEST,
          mapped((v, _id, i) => (i === 3 ? 0 : v)),
        ),
        'log',
      ),
      /analysed as logarithms, which need values above 0; found [0-9A-Z-]+ \(0\)/,
    ],
    [
      'weights as counts',
      scaled(basil, 'poisson'),
      /analysed as counts \(Poisson\), which need whole numbers from 0; found .* more/,
    ],
  ];
  it.each(refused)('say so in a sentence: %s', async (_name, plan, sentence) => {
    await expect(findings(plan)).rejects.toThrow(sentence);
  });
});

describe('counts where trays are the units', () => {
  const counted = scaled(
    withValues(
      HARVEST,
      mapped((v) => Math.round(v)),
    ),
    'poisson',
  );

  it('are analysed by their means, and say so', async () => {
    const found = await findings(counted);
    expect(found.paragraph).toContain('Counts were averaged per tray and treatment;');
    expect(found.paragraph).toContain('among trays, drawn over');
    expect(found.averaged?.units).toEqual(['tray']);
    expect(notNumbers(found)).toEqual([]);
  });
});

describe('records that bear a little', () => {
  const ofLevel = (factor: string, level: string) => (id: string) =>
    levelsOf.get(id)?.[factor] === level;

  it('say which level has no pot left, and judge the others', async () => {
    const isDead = ofLevel('f54', 'v55');
    const marks = Object.fromEntries(
      [...levelsOf.keys()]
        .filter(isDead)
        .map((id) => [id, { mark: 'dead' as const, date: null, reason: '' }]),
    );
    const found = await findings({ ...basil, records: { ...basil.records, marks } });
    expect(found.paragraph).toContain('No pot with Brookleaf has a value that can be used');
    expect(found.paragraph).toContain('Cultivar made a difference');
    expect(notNumbers(found)).toEqual([]);
  });

  it('name the pots without a value at the start, which is to be allowed for', async () => {
    const starts = Object.fromEntries(
      Object.entries(basil.records.values[START] ?? {}).filter((_, i) => i % 3 > 0),
    );
    const found = await findings(withValues(START, starts));
    expect(found.paragraph).toMatch(/[0-9]+ without a value at the start/);
    expect(found.leftOut.some(({ why }) => why === 'no-start')).toBe(true);
    expect(notNumbers(found)).toEqual([]);
  });

  it('take weights below zero as they are', async () => {
    const found = await findings(
      withValues(
        HARVEST,
        mapped((v) => v - 45),
      ),
    );
    expect(found.paragraph).toContain('Feed made a difference');
    expect(notNumbers(found)).toEqual([]);
  });

  const poor: [string, Plan][] = [
    [
      'a single block',
      withValues(
        HARVEST,
        mapped((v, id) => (id.startsWith('t2') ? v : null)),
      ),
    ],
    [
      'three values',
      withValues(
        HARVEST,
        mapped((v, _id, i) => (i % 27 === 0 ? v : null)),
      ),
    ],
    [
      'a pot a treatment',
      withValues(
        HARVEST,
        mapped((v, _id, i) => (i % 6 === 0 ? v : null)),
      ),
    ],
    [
      'two different values only',
      withValues(
        HARVEST,
        mapped((_v, _id, i) => i % 2),
      ),
    ],
    [
      'one pot apart from the same',
      withValues(
        HARVEST,
        mapped((_v, _id, i) => (i === 7 ? 2 : 1)),
      ),
    ],
    [
      'values that are far apart',
      withValues(
        HARVEST,
        mapped((v, _id, i) => v * 10 ** (i % 9)),
      ),
    ],
    [
      'tiny values',
      withValues(
        HARVEST,
        mapped((v) => v * 1e-12),
      ),
    ],
    [
      'one feed alone',
      withValues(
        HARVEST,
        mapped((v, id) => (ofLevel('f50', 'v51')(id) ? v : null)),
      ),
    ],
    [
      'zeros by their roots',
      scaled(
        withValues(
          HARVEST,
          mapped((v, _id, i) => (i % 4 ? v : 0)),
        ),
        'sqrt',
      ),
    ],
    [
      'a rate of nothing',
      withTrial(withValues(START, {}), { primaryIndex: 'relative-growth-rate' }),
    ],
  ];
  it.each(poor)('give figures, or a sentence, and nothing else: %s', async (_name, plan) => {
    let said: string;
    try {
      const found = await findings(plan);
      expect(notNumbers(found)).toEqual([]);
      said = found.paragraph;
    } catch (error) {
      said = error instanceof Error ? error.message : '';
    }
    expect(said).not.toMatch(/NaN|undefined|Infinity|\[object|is not a function|Cannot read/);
    expect(said.length).toBeGreaterThan(30);
  });
});
