import { describe, expect, it } from 'vitest';
import { findingsOfPlan, PRIMARY } from '../../renderer/derive';
import { trialInputOf } from '../../renderer/derive/trial/trial';
import { planRuns } from '../../renderer/document/commands';
import { seenFromLast } from '../../renderer/document/runs';
import { statements } from '../../renderer/engine/findings';
import { drawLayout } from '../../renderer/engine/trial';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
import { samplePlan } from '../builders/samplePlan';

type Scores = readonly [bark: readonly number[], clay: readonly number[]];

/** Two media on eight pots, four each, shuffled freely and scored from 1 to 5. */
function eightPots(): Plan {
  const sample = samplePlan();
  if (!sample.trial) throw new Error('the sample has a trial');
  const shelves = sample.rack.shelves.map((shelf) => ({
    ...shelf,
    trays: shelf.trays.map((tray) => ({
      ...tray,
      grid: tray.grid && { ...tray.grid, columns: 2 },
    })),
  }));
  const measurements = sample.trial.measurements
    .filter(({ id }) => id === 'm2')
    .map((m) => ({
      ...m,
      kind: 'score' as const,
      name: 'score',
      unit: '',
      decimals: 0,
      lowest: 1,
      highest: 5,
    }));
  return {
    ...sample,
    rack: { ...sample.rack, shelves },
    trial: {
      ...sample.trial,
      factors: sample.trial.factors.filter(({ id }) => id === 'f2'),
      measurements,
      blocks: { by: 'none' as const },
      scheme: 'completely-randomised' as const,
      constraint: { acceptanceShare: 1, balance: [], likeNeighbours: null },
      primaryPosition: 'none' as const,
      startCovariate: false,
    },
  };
}

/** The run in hand drawn, and its scores at the pots of each medium. */
function scored(plan: Plan, seed: string, scores: Scores): Plan {
  const input = trialInputOf(plan);
  if (!input) throw new Error('the plan has a trial');
  const at = { drawnAt: '2026-03-01T09:00:00+00:00', engineVersion: 'test' };
  const { layout } = drawLayout({ ...input, seed, ...at });
  const values = Object.fromEntries(
    (['v3', 'v4'] as const).flatMap((level, k) =>
      layout.assignments
        .filter(({ levels }) => levels['f2'] === level)
        .map(({ potId }, i) => [potId, scores[k]?.[i] ?? NaN]),
    ),
  );
  return { ...plan, layout, records: { ...plan.records, values: { m2: values } } };
}

function twice(first: Scores, second: Scores): Plan {
  const planted = scored(eightPots(), 'first', first);
  const both = run(planted, planRuns, { runs: 2, swappedFactorId: null });
  return scored(seenFromLast(both), 'second', second);
}

/** All 70 ways to give four of eight pots the one medium, as their sums. */
function sumsOfFour(scores: Scores): number[] {
  const all = scores.flat();
  const sums: number[] = [];
  for (let set = 0; set < 256; set++) {
    const taken = all.filter((_, i) => (set >> i) & 1);
    if (taken.length === 4) sums.push(taken.reduce((sum, x) => sum + x, 0));
  }
  return sums;
}

/**
 * How many of the 70 × 70 layouts give as large a difference of sums over both runs: where every run
 * has as many pots of each medium, F of the medium beside the run grows with it alone.
 */
function counted(first: Scores, second: Scores): number {
  const whole = [...first.flat(), ...second.flat()].reduce((sum, x) => sum + x, 0);
  const far = (one: number, other: number) => Math.abs(2 * (one + other) - whole);
  const [a, b] = [first, second].map(([bark]) => bark.reduce((sum, x) => sum + x, 0));
  const observed = far(a ?? NaN, b ?? NaN);
  return sumsOfFour(first).flatMap((one) =>
    sumsOfFour(second).filter((other) => far(one, other) >= observed),
  ).length;
}

describe('scores of two runs', () => {
  it.each([
    [
      'one way in both',
      [
        [4, 5, 4, 3],
        [2, 3, 3, 2],
      ],
      [
        [5, 4, 4, 4],
        [3, 4, 2, 3],
      ],
    ],
    [
      'to and fro',
      [
        [4, 5, 4, 3],
        [2, 3, 3, 2],
      ],
      [
        [3, 4, 2, 3],
        [5, 4, 4, 4],
      ],
    ],
    [
      'with nothing in it',
      [
        [3, 2, 4, 3],
        [3, 3, 2, 4],
      ],
      [
        [1, 2, 2, 1],
        [2, 1, 1, 2],
      ],
    ],
  ] as [string, Scores, Scores][])('%s: each run is shuffled by itself', (_name, first, second) => {
    const outcome = findingsOfPlan(twice(first, second), PRIMARY);
    if (!outcome.ok) throw new Error(outcome.missing);
    const [test] = outcome.findings.scoreTests;
    if (!test || !('found' in test)) throw new Error(`a test is expected, found ${test?.refused}`);
    const asExtreme = counted(first, second);
    expect(test.found).toMatchObject({ runs: 4900, asExtreme, exact: true, approximate: null });
    expect(test.found.p).toBeCloseTo(asExtreme / 4900, 12);
    const said = statements(outcome.findings).find(({ of }) => of === 'medium')?.text;
    expect(said).toContain(`${asExtreme} of 4900 possible layouts give as much`);
    const texts = statements(outcome.findings).map(({ text }) => text);
    expect(texts.filter((text) => text.includes('are approximate'))).toHaveLength(1);
  });

  it('go by the model, and say so, where a draw cannot be repeated', () => {
    const plan = twice(
      [
        [4, 5, 4, 3],
        [2, 3, 3, 2],
      ],
      [
        [5, 4, 4, 4],
        [3, 4, 2, 3],
      ],
    );
    const stale = { ...plan, layout: plan.layout && { ...plan.layout, drawnFrom: 'other' } };
    const outcome = findingsOfPlan(stale, PRIMARY);
    if (!outcome.ok) throw new Error(outcome.missing);
    const said = statements(outcome.findings).map(({ text }) => text);
    expect(said).toContainEqual(
      expect.stringMatching(/here F stands in for it: Run 2: the plan has changed since its draw/),
    );
  });
});
