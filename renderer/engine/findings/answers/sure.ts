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
