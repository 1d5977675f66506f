import { planRuns } from '../../renderer/document/commands';
import type { Plan } from '../../shared-types/plan';
import { run } from './run';
import { drawnPlan } from './samplePlan';

/** The sample grown twice: run 1 planted with plants P1…, run 2 drawn with plants Q1…; seen from run 2. */
export function twoRuns(): Plan {
  const first = drawnPlan('2026-03-02');
  const plan = run(first, planRuns, { runs: 2, swappedFactorId: null });
  const assignments = (first.layout?.assignments ?? []).map((pot, i) => ({
    ...pot,
    plant: `Q${i + 1}`,
  }));
  if (!first.layout) throw new Error('the sample is drawn');
  const layout = { ...first.layout, seed: 'eight herons', plantedAt: null, assignments };
  return { ...plan, layout };
}
