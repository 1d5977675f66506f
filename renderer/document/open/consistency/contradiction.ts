import type { Plan } from '../../../../shared-types/plan';
import { sayPath } from '../words';

/** Two parts of a plan that contradict each other. */
export interface Contradiction {
  at: Path;
  /** `at` in the form of `rack.shelves[0].trays[2].widthMm`. */
  path: string;
  found: string;
  expected: string;
}

export type Path = readonly PropertyKey[];

/** Looks for a contradiction; `sound`: a plan known to have none, of which parts may be shared. */
export type Check = (plan: Plan, sound?: Plan) => Contradiction | null;

export const contradict = (path: Path, found: string, expected: string): Contradiction => ({
  at: path,
  path: sayPath(path),
  found,
  expected,
});
