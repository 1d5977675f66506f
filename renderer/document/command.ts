import type { Plan } from '../../shared-types/plan';

export { Refusal } from '../words';

/**
 * One intention of the person: `plan → plan`. Undo, autosave and the lock on a planted layout are
 * the dispatcher's business; a command only says what it is called and what the plan becomes.
 */
export interface Command<Args> {
  readonly name: string;
  /** What "Undo …" says, e.g. `Move tray 2B`. */
  label(args: Args, plan: Plan): string;
  /** Neither it nor what was done before it can be undone. */
  readonly final?: true;
  /** Writes values, marks or notes of the records: when and by whom is kept with each. */
  readonly entersValues?: true;
  /** Throws a `Refusal` where the plan does not allow it; never changes its input. */
  run(plan: Plan, args: Args): Plan;
}
