import { formatShare } from '../../../words';

/** How sure an answer is. */
export type Sure = 'clear' | 'leaning' | 'cannot-tell';
export const sureWords: Record<Sure, string> = {
  clear: 'clear',
  leaning: 'leaning',
  'cannot-tell': 'can’t tell',
};

/** Clear at the significance level of the plan; leaning up to twice that. */
export function sureOf(p: number, alpha: number): Sure {
  if (p < alpha) return 'clear';
  return p < 2 * alpha ? 'leaning' : 'cannot-tell';
}

/** What each word promises, in plain words, for whoever asks. */
export function sureMeaning(sure: Sure, alpha: number): string {
  switch (sure) {
    case 'clear':
      return `Clear: with no difference at all, chance alone would give as much in fewer than ${formatShare(alpha)} of trials.`;
    case 'leaning':
      return `Leaning: chance alone would give as much in ${formatShare(alpha)} to ${formatShare(2 * alpha)} of trials. Worth another trial, no proof.`;
    case 'cannot-tell':
      return `Can’t tell: chance alone would often give as much. A difference may still be there, within the interval.`;
  }
}
