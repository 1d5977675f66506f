import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawLayout } from '../../renderer/engine/trial';
import { trialInputOf } from '../../renderer/derive/trial/trial';
import { findingsOfPlan, PRIMARY } from '../../renderer/derive';
import { answersOf, statements } from '../../renderer/engine/findings';
import type { Plan } from '../../shared-types/plan';
import type { Measurement } from '../../shared-types/trial/measurement';
import { samplePlan } from '../builders/samplePlan';
import { expectClose } from './figures';

interface ScoreCase {
  name: string;
  scores: number[];
  means: [number, number];
  layouts: number;
  asExtreme: number;
  p: number;
  pOfT: number;
}

const url = new URL('expected/33-scores.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(url, 'utf8')) as { cases: ScoreCase[] };

/** Two media on twelve pots, six each, shuffled freely; the scores of bark first, then of clay. */
function scored({ scores }: ScoreCase, kind: Measurement['kind'] = 'score'): Plan {
  const sample = samplePlan();
  if (!sample.trial) throw new Error('the sample has a trial');
  const measurements = sample.trial.measurements
    .filter(({ id }) => id === 'm2')
    .map((m) => ({ ...m, kind, name: 'score', unit: '', decimals: 0, lowest: 1, highest: 5 }));
  const plan: Plan = {
    ...sample,
    trial: {
      ...sample.trial,
      factors: sample.trial.factors.filter(({ id }) => id === 'f2'),
      measurements,
      blocks: { by: 'none' },
      scheme: 'completely-randomised',
      constraint: { acceptanceShare: 1, balance: [], likeNeighbours: null },
      primaryPosition: 'none',
      startCovariate: false,
    },
  };
  const input = trialInputOf(plan);
  if (!input) throw new Error('the plan has a trial');
  const { layout } = drawLayout({
    ...input,
    seed: 'scores',
    drawnAt: '2026-03-01T09:00:00+00:00',
    engineVersion: 'test',
  });
  const potsOf = (level: string) =>
    layout.assignments.filter(({ levels }) => levels['f2'] === level).map(({ potId }) => potId);
  const pots = [...potsOf('v3'), ...potsOf('v4')];
  const values = Object.fromEntries(pots.map((id, i) => [id, scores[i] ?? NaN]));
  return { ...plan, layout, records: { ...plan.records, values: { m2: values } } };
}

function found(plan: Plan) {
  const outcome = findingsOfPlan(plan, PRIMARY);
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

describe('scores are answered by their means and the shuffle alone', () => {
  it.each(cases)('$name: as all 924 permutations in R', (one) => {
    const findings = found(scored(one));
    const [test] = findings.scoreTests;
    if (!test || !('found' in test)) throw new Error('a randomisation test is expected');
    expect(test.found).toMatchObject({ runs: one.layouts, asExtreme: one.asExtreme, exact: true });
    expectClose(test.found.p, one.p, 1e-9, 'p');
    const means = findings.primary.result.means[0]?.rows.map(({ mean }) => mean) ?? [];
    expectClose(means[0], one.means[0], 1e-9, 'mean score of bark');
    expectClose(means[1], one.means[1], 1e-9, 'mean score of clay');
    const [answer] = answersOf(findings);
    const sure = one.p < 0.05 ? 'clear' : one.p < 0.1 ? 'leaning' : 'cannot-tell';
    expect(answer?.sure).toBe(sure);
    const said = statements(findings).find(({ of }) => of === 'medium')?.text;
    expect(said).toContain(
      `randomisation test of the mean scores: ${one.asExtreme} of 924 possible layouts give as much`,
    );
    expect(said).not.toContain('F(');
  });

  it('where t would say otherwise, and only for scores', () => {
    const between = cases.find(({ name }) => name === 'between');
    if (!between) throw new Error('such a case is expected');
    expect(between.pOfT).toBeLessThan(0.05);
    expect(answersOf(found(scored(between)))[0]?.sure).toBe('leaning');
    const weights = found(scored(between, 'weight'));
    expect(weights.scoreTests).toEqual([]);
    expect(answersOf(weights)[0]?.sure).toBe('clear');
  });
});
