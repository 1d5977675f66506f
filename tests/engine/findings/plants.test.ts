import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  multiplicityWords,
  plantsByLevel,
  plantsWords,
  questionOf,
} from '../../../renderer/engine/findings';
import { readPlan } from '../../../renderer/document/open';
import type { Trial } from '../../../shared-types/trial/trial';

const url = new URL('../../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(url, 'utf8'));
if (!read.ok || !read.plan.trial) throw new Error('the basil plan has a trial');
const trial: Trial = read.plan.trial;
const factor = trial.factors[0];
const [first, second] = factor?.levels ?? [];
if (!factor || !first || !second) throw new Error('its first factor has two levels');

/** Six pots, three of each level in turn. */
const table = (why: Record<number, 'dead' | 'missing' | 'no-record'>) => {
  const pots = [0, 1, 2, 3, 4, 5].map((i) => ({
    id: `p${i}`,
    code: `1A-A${i}`,
    trayId: 't1',
    shelfId: 's1',
  }));
  const unitsPerLevel = new Map([
    [first.name, 3],
    [second.name, 3],
  ]);
  return {
    pots,
    leftOut: pots.flatMap((pot, i) => {
      const reason = why[i];
      return reason ? [{ pot, why: reason }] : [];
    }),
    table: {
      rowCount: 6,
      columns: { [factor.name]: pots.map((_, i) => (i % 2 === 0 ? second.name : first.name)) },
    },
    roles: [
      {
        factor,
        column: factor.name,
        unit: 'pot' as const,
        unitColumn: 'pot',
        unitsPerLevel,
        replicated: true,
      },
    ],
  };
};

describe('pots without a value', () => {
  it('are told by level, dead apart from missing and from others', () => {
    const counted = table({ 0: 'dead', 1: 'missing', 2: 'dead', 3: 'no-record' });
    const none = { analysed: 1, dead: 0, missing: 0, others: 0 };
    expect(plantsByLevel(counted)).toEqual([
      { factor: factor.name, level: first.name, pots: 3, ...none, missing: 1, others: 1 },
      { factor: factor.name, level: second.name, pots: 3, ...none, dead: 2 },
    ]);
    expect(plantsWords(counted)).toEqual([
      'Values of pots left out were not filled in.',
      `Deaths by ${factor.name}: ${first.name} 0 of 3 and ${second.name} 2 of 3.`,
      `Missing plants by ${factor.name}: ${first.name} 1 of 3 and ${second.name} 0 of 3.`,
    ]);
  });

  it('are not spoken of where there are none', () => {
    expect(plantsWords(table({}))).toEqual([]);
    expect(plantsWords(table({ 4: 'no-record' }))).toHaveLength(1);
  });
});

describe('several measurements', () => {
  const [one] = trial.measurements.filter((m) => m.timepoint === 'harvest');
  if (!one) throw new Error('something is measured at harvest');
  const two = { ...one, id: 'm999', name: 'Leaf area' };
  const both: Trial = {
    ...trial,
    primaryOutcomeId: one.id,
    measurements: [one, two],
  };
  const values = { [one.id]: { p0: 1 }, m999: { p0: 1 } };
  const words = (of: Trial, id: string, taken: Record<string, Record<string, number>>) => {
    const question = questionOf(of, id);
    if (!question) throw new Error(id);
    return multiplicityWords(of, question, { values: taken });
  };

  it('are counted, with the main one named', () => {
    expect(words(both, one.id, values)).toBe(
      `2 measurements were recorded at harvest. ${one.name} is the main result; the others are exploratory. No p is adjusted for their number.`,
    );
    expect(words(both, 'm999', values)).toMatch(/^2 measurements .* The main result is /);
  });

  it('count only where they hold values', () => {
    expect(words(both, one.id, { ...values, m999: {} })).toBeNull();
    expect(words({ ...both, primaryOutcomeId: null }, one.id, values)).toBeNull();
  });
});
