import { lengthUnit, type UnitSystem } from '../words';

const MM_PER_INCH = 25.4;

/**
 * Reads a typed length. A bare number is in the shown system; `mm`, `cm`, `m`, `in`, `"`, `ft` and
 * `'` are understood in both. Decimal comma or point. null where it is not a length.
 */
export function parseLength(text: string, system: UnitSystem): number | null {
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
