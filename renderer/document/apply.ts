import { z } from 'zod';
import { planSchema } from '../../shared-types/plan';
import type { Plan } from '../../shared-types/plan';
import type { EntryAct } from '../../shared-types/records';
import type { WayOn } from '../../shared-types/window/wayOn';
import { changedKeys } from './changedKeys';
import { Refusal } from './command';
import type { Command } from './command';
import { withTrail } from './edits/trail';
import { checkLock } from './lock';
import { checkOtherRuns, withRunsThatFit } from './otherRuns';
import { PlantedRefusal } from './plantedConditions';
import { findInconsistency } from './open/consistency';
import { sayIssue } from './open/words';
import { sayPlace } from './queries/place';
import { hasRun, seenFrom } from './runs';

export type Outcome =
  | { ok: true; plan: Plan; label: string }
  /** `correctable`: a correction with a date and a reason would be carried out. */
  | { ok: false; reason: string; correctable?: true; wayOn?: WayOn | null };

/**
 * Carries out one command: what the command refuses, what the schema or a cross-reference does not
 * allow and what the lock on a planted layout forbids comes back as a reason, and the plan is as
 * it was. A command that changes nothing gives the same plan back. Every edit goes through here.
 * `act`: when it is done and by whom, kept with the values that it enters.
 */
export function applyCommand<Args>(
  plan: Plan,
  command: Command<Args>,
  args: Args,
  act?: EntryAct,
): Outcome {
  try {
    const label = command.label(args, plan);
    const done = command.run(plan, args);
    const ran = act && command.entersValues ? withTrail(plan, done, act) : done;
    const after = withRunsThatFit(plan, ran);
    if (after !== plan) {
      // In this order: nobody lays out pots by figures that are no figures, and who is told that a
      // pot is planted need not hear which cross-reference that would break.
      checkFigures(plan, after);
      // As seen from one run, whichever the command leaves in hand.
      const at = hasRun(after, plan.runId) ? plan.runId : after.runId;
      const [was, is] = [seenFrom(plan, at), seenFrom(after, at)];
      checkLock(was, is);
      checkReferences(was, is);
      checkOtherRuns(was, is);
    }
    return { ok: true, plan: after, label };
  } catch (error) {
    if (error instanceof PlantedRefusal) {
      return { ok: false, reason: error.message, correctable: true };
    }
    if (error instanceof Refusal) return { ok: false, reason: error.message, wayOn: error.wayOn };
    throw error;
  }
}

/** Checks the parts of a plan that are not the ones it had before. */
function checkFigures(before: Plan, after: Plan): void {
  for (const [key, schema] of Object.entries(planSchema.shape)) {
    const value: unknown = Reflect.get(after, key);
    const was: unknown = Reflect.get(before, key);
    if (value === was) continue;
    const checked = schema.safeParse(withoutWhatStayed(schema, was, value));
    const issue = checked.error?.issues[0];
    if (issue) {
      const { found, expected } = sayIssue(issue, value, [key]);
      const place = sayPlace(after, [key, ...issue.path]);
      throw new Refusal(`${place}: found ${found}, expected ${expected}.`);
    }
  }
}

/**
 * A value without the entries of its records that are the ones they were: of ten thousand weights
 * only the one that was typed is checked again.
 */
function withoutWhatStayed(schema: z.core.$ZodType, before: unknown, after: unknown): unknown {
  if (schema instanceof z.ZodOptional) return withoutWhatStayed(schema.unwrap(), before, after);
  if (!isGroup(before) || !isGroup(after)) return after;
  if (schema instanceof z.ZodRecord) {
    const { valueType } = schema;
    const changed = changedKeys(before, after).filter((key) => key in after);
    return Object.fromEntries(
      changed.map((key) => [key, withoutWhatStayed(valueType, before[key], after[key])]),
    );
  }
  if (!(schema instanceof z.ZodObject)) return after;
  const shape: Record<string, z.core.$ZodType> = schema.shape;
  return Object.fromEntries(
    Object.entries(after).map(([key, value]) => {
      const part = shape[key];
      return [key, part ? withoutWhatStayed(part, before[key], value) : value];
    }),
  );
}

function isGroup(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function checkReferences(before: Plan, after: Plan): void {
  const contradiction = findInconsistency(after, before);
  if (contradiction) {
    const { at, found, expected } = contradiction;
    throw new Refusal(`${sayPlace(after, at)}: found ${found}, expected ${expected}.`);
  }
}
