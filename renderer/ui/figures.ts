/** Numbers as a person reads them: sensible digits, a true minus sign, never an exponent soup. */

export function figures(value: number, significant = 3): string {
  if (!Number.isFinite(value)) return value > 0 ? '∞' : value < 0 ? '−∞' : '–';
  if (value === 0) return '0';
  const size = Math.floor(Math.log10(Math.abs(value)));
  if (size >= 7 || size < -5) {
    const exponent = Math.floor(Math.log10(Math.abs(value)));
    return `${fixed(value / 10 ** exponent, significant - 1)} × 10${superscript(exponent)}`;
  }
  return fixed(value, Math.min(8, Math.max(0, significant - 1 - size)));
}

/** Fixed decimals with a true minus sign. */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  if (/^-0(\.0+)?$/.test(text)) return text.slice(1);
  return text.replace('-', '−');
}

export function percent(share: number, decimals = 0): string {
  return `${fixed(share * 100, decimals)} %`;
}

/** A probability: three decimals, or `< 0.001`. */
export function probability(p: number): string {
  return p < 0.001 ? '< 0.001' : fixed(p, 3);
}

function superscript(exponent: number): string {
  const digits = '⁰¹²³⁴⁵⁶⁷⁸⁹';
  return String(exponent)
    .split('')
    .map((c) => (c === '-' ? '⁻' : digits.charAt(Number(c))))
    .join('');
}

/** `1 pot`, `3 pots`. */
export function plural(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
