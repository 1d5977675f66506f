import { expect, it } from 'vitest';
import { findingsOfPlan, noticesOfAllRuns } from '../../renderer/derive';
import { enterValues } from '../../renderer/document/commands';
import { inRun } from '../../renderer/document/runs';
import { potsOfRack } from '../../renderer/engine/geometry';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
import { twoRuns } from '../builders/twoRuns';

/** Fresh weights of some runs; in the last of them one pot weighs what no other does. */
const weighed = (runs: readonly string[]): Plan =>
  runs.reduce(
    (plan, id, k) =>
      inRun(plan, id, (seen) =>
        run(seen, enterValues, {
          measurementId: 'm2',
          entries: potsOfRack(seen.rack).map((pot, i) => ({
            potId: pot.id,
            value: i === 3 && k === runs.length - 1 ? 90 : 9 + 0.1 * i,
          })),
        }),
      ),
    twoRuns(),
  );
const told = (plan: Plan) =>
  noticesOfAllRuns(plan, findingsOfPlan(plan)).filter(({ stage }) => stage === 'findings');

it('names the runs that the findings and their notices are of', () => {
  const { runId } = twoRuns();
  const one = told(weighed([runId]));
  expect(one.map(({ kind }) => kind)).toContain('influential-pot');
  for (const { text } of one) expect(text).toMatch(/^Run 2: /);
  const both = told(weighed(['run0', runId]));
  const pot = both.find(({ kind }) => kind === 'influential-pot');
  expect(pot?.text).toMatch(/^Runs 1 and 2 together: /);
  for (const { text } of both) expect(text).toMatch(/^Runs 1 and 2( together)?: /);
});
