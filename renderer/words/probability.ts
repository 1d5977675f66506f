import { fixed } from './numbers';

const USUAL_ALPHA = 0.05;
const MOST_DECIMALS = 6;

/**
 * A probability to three decimals, `< 0.001`, or more decimals where three would hide on which side
 * of α it lies: `0.0496`.
 */
export function formatP(p: number, alpha = USUAL_ALPHA): string {
  if (Number.isNaN(p)) return '–';
  let decimals = 3;
  while (decimals < MOST_DECIMALS && p !== alpha && Number(p.toFixed(decimals)) === alpha) {
    decimals++;
  }
  if (p >= 0.001 || decimals > 3) return fixed(p, decimals);
  return '< 0.001';
}

/** The same with its letter, for a sentence: `p = 0.012`, `p < 0.001`. */
export function saidP(p: number, alpha = USUAL_ALPHA): string {
  const text = formatP(p, alpha);
  return text.startsWith('<') ? `p ${text}` : `p = ${text}`;
}
