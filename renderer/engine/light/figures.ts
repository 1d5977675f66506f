/** A figure for a sentence: so many significant digits, no exponent, no trailing zeros. */
export function figure(value: number, digits = 3): string {
  if (value === 0 || !Number.isFinite(value)) return String(value);
  const places = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
  return String(Number(value.toFixed(Math.min(places, 12))));
}

/** `1 pot`, `3 pots`. */
export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** `shelf 1`, `shelves 1 and 2`, `shelves 1, 2 and 4`. */
export function shelvesInWords(numbers: readonly number[]): string {
  const last = numbers[numbers.length - 1];
  if (last === undefined) return 'no shelf';
  if (numbers.length === 1) return `shelf ${last}`;
  return `shelves ${numbers.slice(0, -1).join(', ')} and ${last}`;
}
