import type { Layout } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import { drawLayoutToKeep, verifyLayout, type Verification } from '../../engine/trial';
import { runName, seenFrom } from '../../document/runs';
import { drawnTogether } from '../trial/runs';
import { attempt, trialInputOf, type Attempt } from '../trial/trial';
import { engineVersion } from '../version';

/**
 * A layout drawn for this plan as it stands; `drawnAt` in ISO 8601, for nothing here has a clock.
 * Where plants are listed, the values at the start belong to them and not yet to pots: the draw
 * leaves those out, and size is balanced as the plants are given to the pots.
 */
export function drawFor(plan: Plan, seed: string, drawnAt: string): Attempt<Layout> {
  const input = trialInputOf(plan);
  if (!input) return { ok: false, reason: 'No trial is planned yet.' };
  const starts = plan.plants ? { startByPot: undefined } : {};
  return attempt(() => drawLayoutToKeep({ ...input, ...starts, seed, drawnAt, engineVersion }));
}

/** A run's layout drawn with those of the runs whose draw is bound to it, or to which it is bound. */
export interface DrawnRuns {
  layout: Layout;
  ofOtherRuns: { runId: string; layout: Layout }[];
}

/**
 * The layout of the run in hand, and of every run not planted yet that is drawn with it as one act:
 * the first as the seed says, each other under the same seed with its name. The seed of either gives
 * the same layouts again.
 */
export function drawRuns(plan: Plan, seed: string, drawnAt: string): Attempt<DrawnRuns> {
  const base = withoutRun(plan, seed);
  let drawn = plan;
  const layouts = new Map<string, Layout>();
  for (const runId of drawnTogether(plan)) {
    const seen = seenFrom(drawn, runId);
    if (seen.swap && !seenFrom(drawn, seen.swap.fromRun).layout) {
      const from = runName(plan, seen.swap.fromRun);
      return { ok: false, reason: `${from} has no layout to swap the levels of.` };
    }
    const layout = drawFor(seen, seedInRun(seen, base), drawnAt);
    if (!layout.ok) return layout;
    layouts.set(runId, layout.value);
    drawn = { ...seen, layout: layout.value };
  }
  const layout = layouts.get(plan.runId);
  if (!layout) {
    const reason = `${runName(plan)} is planted; it is drawn anew only after it has been unlocked.`;
    return { ok: false, reason };
  }
  layouts.delete(plan.runId);
  const ofOtherRuns = [...layouts].map(([runId, other]) => ({ runId, layout: other }));
  return { ok: true, value: { layout, ofOtherRuns } };
}

/** The seed under which a run is drawn with others: of a run that swaps levels, with its name. */
export const seedInRun = (plan: Plan, seed: string): string =>
  plan.swap ? `${withoutRun(plan, seed)}, ${runName(plan)}` : seed;

function withoutRun(plan: Plan, seed: string): string {
  const name = `, ${runName(plan)}`;
  return plan.swap && seed.endsWith(name) ? seed.slice(0, -name.length) : seed;
}

/** The plan's layout drawn again from its seed and compared pot by pot; null without a layout. */
export function verifyOf(plan: Plan): Verification | null {
  const input = trialInputOf(plan);
  return input && plan.layout ? verifyLayout(input, plan.layout) : null;
}
