import { fixed } from './numbers';

const MOST_DECIMALS = 6;

/** Below this a p is not spelt out, unless α lies there too. */
const LEAST = 0.001;

/**
 * A probability to three decimals, `< 0.001`, or more decimals where three would hide on which side
 * of α it lies: `0.0496`.
 */
export function formatP(p: number, alpha: number): string {
  if (Number.isNaN(p)) return '–';
  if (p < LEAST && p < alpha && alpha >= LEAST) return below(3);
  let decimals = 3;
  while (decimals < MOST_DECIMALS && !tells(p, decimals, alpha)) decimals++;
  return p > 0 && Number(p.toFixed(decimals)) === 0 ? below(decimals) : fixed(p, decimals);
}

/** The same with its letter, for a sentence: `p = 0.012`, `p < 0.001`. */
export function saidP(p: number, alpha: number): string {
  const text = formatP(p, alpha);
  return text.startsWith('<') ? `p ${text}` : `p = ${text}`;
}

function below(decimals: number): string {
  return `< ${fixed(10 ** -decimals, decimals)}`;
}

/** Whether so many decimals show p on the side of α on which it lies. */
function tells(p: number, decimals: number, alpha: number): boolean {
  const rounded = Number(p.toFixed(decimals));
  if (rounded === 0 && p > 0) return 10 ** -decimals <= alpha;
  return Math.sign(rounded - alpha) === Math.sign(p - alpha);
}
