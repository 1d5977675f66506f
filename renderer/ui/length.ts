export type LengthSystem = 'metric' | 'imperial';

const MM_PER_INCH = 25.4;

/** Millimetres as a person reads them: `1200 mm`, or inches to a sixteenth-like 0.01: `47.24 in`. */
export function formatLength(mm: number, system: LengthSystem): string {
  return `${lengthNumber(mm, system)} ${lengthUnit(system)}`;
}

export function lengthUnit(system: LengthSystem): 'mm' | 'in' {
  return system === 'metric' ? 'mm' : 'in';
}

/** The bare number shown in a field. */
export function lengthNumber(mm: number, system: LengthSystem): string {
  const value = system === 'metric' ? mm : mm / MM_PER_INCH;
  return trimmed(value, system === 'metric' ? 1 : 3);
}

/**
 * Reads a typed length. A bare number is in the shown system; `mm`, `cm`, `m`, `in`, `"`, `ft` and
 * `'` are understood in both. Decimal comma or point. null where it is not a length.
 */
export function parseLength(text: string, system: LengthSystem): number | null {
  const match = /^\s*([-+]?[0-9]*[.,]?[0-9]+)\s*(mm|cm|m|in|inch|ft|"|')?\s*$/i.exec(text);
  if (!match) return null;
  const value = Number((match[1] ?? '').replace(',', '.'));
  if (!Number.isFinite(value)) return null;
  switch ((match[2] ?? lengthUnit(system)).toLowerCase()) {
    case 'mm':
      return value;
    case 'cm':
      return value * 10;
    case 'm':
      return value * 1000;
    case 'ft':
    case "'":
      return value * 12 * MM_PER_INCH;
    default:
      return value * MM_PER_INCH;
  }
}

function trimmed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}
