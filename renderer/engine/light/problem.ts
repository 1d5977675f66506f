import { reasonOf, Refusal, type UnitSystem } from '../../words';

/** Says why light cannot be computed, with lengths in the person's units. */
export type ProblemWords = (lengths: UnitSystem) => string;

/** A flaw with a place: its message holds no length, for whoever cannot say in which units. */
export class LightProblem extends Refusal {
  constructor(
    message: string,
    readonly told: ProblemWords,
  ) {
    super(message);
  }
}

export function problemWords(error: unknown): ProblemWords {
  if (error instanceof LightProblem) return error.told;
  const message = reasonOf(error);
  return () => message;
}
