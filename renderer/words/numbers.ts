import { spokenLocale } from './locale';

/** Beyond these powers of ten a figure is said with its power: noughts are hard to count. */
const PLAIN = { lowest: -6, highest: 7 };

/** Fixed decimals by the decimal sign in use, with a true minus sign, which never stands before nothing. */
export function fixed(value: number, decimals: number): string {
  return spelt(value) ?? signed(value.toFixed(decimals));
}

/** Fixed decimals with a sign before every value but nothing: `+1.2`, `−0.4`, `0.0`. */
export function withSign(value: number, decimals: number): string {
  const text = fixed(value, decimals);
  return value > 0 && /[1-9∞]/.test(text) ? `+${text}` : text;
}

/** At most so many decimals, without trailing zeros: `12.5`, `12`. */
export function trimmed(value: number, decimals: number): string {
  return spelt(value) ?? signed(String(rounded(value, decimals)));
}

/** A number as a field shows it: by the decimal sign in use, with the keyboard's minus, to be read back. */
export function fieldNumber(value: number): string {
  return String(value).replace('.', spokenLocale().decimal);
}

/** The number at a mark of an axis, as the charting library writes it (`1,000.5`), by the sign in use. */
export function axisNumber(text: string): string {
  if (!/^[−-]?[0-9][0-9,]*(\.[0-9]+)?$/.test(text)) return text;
  return text.replaceAll(',', '').replace('.', spokenLocale().decimal);
}

/** Fixed decimals with a point whoever reads it, for style sheets and for what looks at the digits. */
export function plainFixed(value: number, decimals: number): string {
  return value.toFixed(decimals);
}

/** The number that `trimmed` says, for fields and files that take a number. */
export function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}

/** The number at so many significant digits, for fields and scales that take a number. */
export function roundedTo(value: number, significant: number): number {
  return Number(value.toPrecision(significant));
}

/** A measured or computed figure: its significant digits, trailing zeros among them: `2.50`. */
export function figures(value: number, significant = 3): string {
  const odd = spelt(value);
  if (odd !== null) return odd;
  if (value === 0) return '0';
  // Rounding may reach the next power of ten.
  const size = Math.floor(Math.log10(Math.abs(roundedTo(value, significant))));
  if (size < PLAIN.lowest || size > PLAIN.highest) {
    const [digits = '', power = ''] = value.toExponential(significant - 1).split('e');
    return `${signed(digits)} × 10${raised(power)}`;
  }
  return fixed(value, Math.min(10, Math.max(0, significant - 1 - size)));
}

/** A planned or typed figure: so many significant digits at most, no trailing zeros: `2.5`. */
export function figure(value: number, significant = 3): string {
  if (value === 0 || !Number.isFinite(value)) return figures(value);
  const places = Math.max(0, significant - 1 - Math.floor(Math.log10(Math.abs(value))));
  return trimmed(value, Math.min(places, 12));
}

/** `figures` with a unit after it. */
export function said(value: number, unit = '', significant = 3): string {
  const text = figures(value, significant);
  return unit ? `${text} ${unit}` : text;
}

/** Degrees of freedom: whole numbers as such, others to one decimal. */
export function saidDf(df: number): string {
  const whole = Math.round(df);
  return Math.abs(df - whole) < 1e-6 ? String(whole) : fixed(df, 1);
}

/** What is no number to be cut; null: it is one. */
function spelt(value: number): string | null {
  if (Number.isNaN(value)) return '–';
  if (Number.isFinite(value)) return null;
  return value > 0 ? '∞' : '−∞';
}

function signed(text: string): string {
  const unsigned = /^-0(\.0+)?$/.test(text) ? text.slice(1) : text.replace('-', '−');
  return unsigned.replace('.', spokenLocale().decimal);
}

function raised(power: string): string {
  const signs: Record<string, string> = { '-': '⁻', '+': '' };
  return [...power].map((c) => signs[c] ?? '⁰¹²³⁴⁵⁶⁷⁸⁹'.charAt(Number(c))).join('');
}
