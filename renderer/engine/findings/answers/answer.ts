import type { Sure } from './sure';

/** The answer to one question, as it is read in a few seconds; its figures stand elsewhere. */
export interface Answer {
  /** The factor, the factors that may act on each other, or the place. */
  of: string;
  about: 'factor' | 'interaction' | 'place';
  headline: string;
  /** By how much, with its interval; empty where there is nothing to say. */
  figure: string;
  /** null where no test was made. */
  sure: Sure | null;
  /** Plants or place, and why that can be said. */
  why: string;
}
