import type { Plan } from '../../../../shared-types/plan';

/** A plan that has a flaw, and one that narrowly has not. */
export interface Pair {
  what: string;
  flawed: () => Plan;
  sound: () => Plan;
  /** In the text: the figures that matter. */
  says: RegExp;
}
