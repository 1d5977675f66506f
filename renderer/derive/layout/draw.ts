import type { Layout } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import { drawLayoutToKeep, verifyLayout, type Verification } from '../../engine/trial';
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

/** The plan's layout drawn again from its seed and compared pot by pot; null without a layout. */
export function verifyOf(plan: Plan): Verification | null {
  const input = trialInputOf(plan);
  return input && plan.layout ? verifyLayout(input, plan.layout) : null;
}
