import type { PositionModel } from '../../../shared-types/trial';

/** How figures are said in a sentence: sensible digits, true minus sign, units after the number. */

export function said(value: number, unit = '', significant = 3): string {
  const text = plainNumber(value, significant);
  return unit ? `${text} ${unit}` : text;
}

export function saidRange(lower: number, upper: number, unit = '', significant = 3): string {
  return `${plainNumber(lower, significant)} to ${said(upper, unit, significant)}`;
}

export function saidP(p: number): string {
  return p < 0.001 ? 'p < 0.001' : `p = ${p.toFixed(3)}`;
}

/** `a`, `a and b`, `a, b and c`. */
export function list(words: readonly string[]): string {
  if (words.length <= 1) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words[words.length - 1] ?? ''}`;
}

export function plural(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Beyond these powers of ten a figure is said with its power: noughts are hard to count. */
const PLAIN = { lowest: -6, highest: 7 };

function plainNumber(value: number, significant: number): string {
  if (!Number.isFinite(value)) return Number.isNaN(value) ? '–' : value > 0 ? '∞' : '−∞';
  if (value === 0) return '0';
  // Rounding may reach the next power of ten.
  const rounded = Number(value.toPrecision(significant));
  const size = Math.floor(Math.log10(Math.abs(rounded)));
  if (size < PLAIN.lowest || size > PLAIN.highest) {
    const [digits = '', power = ''] = value.toExponential(significant - 1).split('e');
    return `${digits.replace('-', '−')} × 10${raised(power)}`;
  }
  const decimals = Math.min(10, Math.max(0, significant - 1 - size));
  return value.toFixed(decimals).replace('-', '−');
}

function raised(power: string): string {
  const signs: Record<string, string> = { '-': '⁻', '+': '' };
  return [...power].map((c) => signs[c] ?? '⁰¹²³⁴⁵⁶⁷⁸⁹'.charAt(Number(c))).join('');
}

/** Degrees of freedom: whole numbers as such, others to one decimal. */
export function saidDf(df: number): string {
  const whole = Math.round(df);
  return Math.abs(df - whole) < 1e-6 ? String(whole) : df.toFixed(1);
}

type PositionWords = Record<PositionModel, string>;

/** Each way of allowing for position, as it stands in a sentence. */
export const POSITION_WORDS: PositionWords = {
  none: 'position left out',
  edge: 'edge pots told from inner pots',
  light: 'light at each pot',
  linear: 'a slope over rows and columns',
  'rows+columns': 'rows and columns of each tray',
  smooth: 'a smooth surface over each tray',
  ar1: 'likeness of neighbours',
};

const MOVED_WORDS: PositionWords = {
  ...POSITION_WORDS,
  light: 'light over the trial with the tray moves',
};

/** The same, where the light may be that of a trial whose trays were moved by a rota. */
export function positionWords({ lightOverTrial }: { lightOverTrial?: boolean }): PositionWords {
  return lightOverTrial ? MOVED_WORDS : POSITION_WORDS;
}

/** The sentence with figures kept in one line with what they belong to. */
export function unbroken(text: string): string {
  return text
    .replace(/\bp ([<=]) (?=[0-9])/g, 'p\u00a0$1\u00a0')
    .replace(/(?<=[0-9]) (?=%)/g, '\u00a0')
    .replace(/\bF (?=[0-9])/g, 'F\u00a0');
}

export function percentOf(share: { confidence: number }): string {
  return `${Number((share.confidence * 100).toFixed(2))} %`;
}
