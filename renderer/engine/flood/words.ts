/** A figure for a sentence: so many significant digits, no exponent, no trailing zeros. */
export function figure(value: number, digits = 3): string {
  if (value === 0 || !Number.isFinite(value)) return String(value);
  const places = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
  return String(Number(value.toFixed(Math.min(places, 12))));
}

export const mm = (value: number) => `${Number(value.toFixed(1))} mm`;
export const litres = (value: number) => `${figure(value)} L`;
export const flow = (value: number) => `${figure(value)} L/min`;
export const kg = (value: number) => `${figure(value)} kg`;

/** `40 s`, `4.5 min`, `2.3 h`. */
export function duration(seconds: number): string {
  if (seconds < 90) return `${figure(seconds, 2)} s`;
  if (seconds < 120 * 60) return `${figure(seconds / 60, seconds < 600 ? 2 : 3)} min`;
  return `${figure(seconds / 3600, 2)} h`;
}

/** `6:05` for an hour of the day. */
export function clock(hour: number): string {
  const minutes = Math.round(hour * 60);
  return `${Math.floor(minutes / 60) % 24}:${String(minutes % 60).padStart(2, '0')}`;
}

/** `a`, `a and b`, `a, b and c`. */
export function listed(names: readonly string[]): string {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
}
