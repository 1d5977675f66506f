import type { WayOn } from '../../shared-types/window/wayOn';

/**
 * What will not be done or cannot be computed as asked, with the reason as a sentence for the person,
 * who can mend it. Any other error is a mistake of the program's.
 */
export class Refusal extends Error {
  override readonly name = 'Refusal';

  /** Where one goes to get it done all the same. */
  readonly wayOn: WayOn | null;

  constructor(message: string, options: ErrorOptions & { wayOn?: WayOn } = {}) {
    super(message, options);
    this.wayOn = options.wayOn ?? null;
  }
}

/** The sentence of a refusal; any other error is thrown on, to where mistakes are told. */
export function reasonOf(error: unknown): string {
  if (error instanceof Refusal) return error.message;
  throw error;
}

/** What is computed; null where that is refused. */
export function unlessRefused<T>(compute: () => T): T | null {
  try {
    return compute();
  } catch (error) {
    reasonOf(error);
    return null;
  }
}
