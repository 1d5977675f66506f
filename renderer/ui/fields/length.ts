import {
  lengthUnit,
  readTypedFigure,
  twoReadings,
  type UnitSystem,
  fieldNumber,
} from '../../words';

const MM_PER_INCH = 25.4;

/** Millimetres of a unit as it may be written. */
const UNITS: readonly (readonly [RegExp, number])[] = [
  [/^mm$/i, 1],
  [/^cm$/i, 10],
  [/^m$/i, 1000],
  [/^(?:in|inch|inches|")$/i, MM_PER_INCH],
  [/^(?:ft|foot|feet|')$/i, 12 * MM_PER_INCH],
];
const FEET_AND_INCHES =
  /^([+-]?)([0-9]+)\s*(?:'|ft|foot|feet)\s*-?\s*([0-9][^"a-z]*)(?:"|in|inch|inches)?$/i;
const WITH_UNIT = /^(.*?)\s*(mm|cm|m|inches|inch|in|feet|foot|ft|"|')?$/is;
/** The finest length that is kept and shown, by system, mm. */
const FINEST_MM = { metric: 0.1, imperial: 0.001 * MM_PER_INCH } as const;

export type ReadLength = { ok: true; mm: number } | { ok: false; expected: string };

/**
 * Reads a typed length. A bare number is in the shown system; `mm`, `cm`, `m`, `in`, `"`, `ft`, `'`
 * and both together (`5' 3 1/2"`) are understood in both. Decimal comma or point, and fractions.
 * Where the number has two readings, or it is no length, it says what to type.
 */
export function readLength(text: string, system: UnitSystem): ReadLength {
  const written = text
    .trim()
    .replace(/[′’]/g, "'")
    .replace(/″|”|''/g, '"');
  const both = FEET_AND_INCHES.exec(written);
  if (both) {
    const inches = readTypedFigure(both[3] ?? '', 0.001);
    if (inches.ok && inches.value < 12) {
      const mm = (Number(both[2]) * 12 + inches.value) * MM_PER_INCH;
      return { ok: true, mm: both[1] === '-' ? -mm : mm };
    }
  }
  const [, number = '', unit = lengthUnit(system)] = WITH_UNIT.exec(written) ?? [];
  const factor = UNITS.find(([name]) => name.test(unit))?.[1] ?? 1;
  const read = readTypedFigure(number, FINEST_MM[system] / factor);
  if (read.ok && !/e/i.test(number)) return { ok: true, mm: read.value * factor };
  if (!read.ok && read.asked) {
    const [one, other] = read.asked.map((reading) => `${reading} ${unit}`);
    return { ok: false, expected: twoReadings(text, [one ?? '', other ?? '']) };
  }
  const metres = [fieldNumber(1.2), 'm'].join(' ');
  const example = system === 'metric' ? `1200, ${metres} or 4' 2"` : `48, 4' 2 1/2" or ${metres}`;
  return { ok: false, expected: `${foundText(text)}; a length such as ${example} is expected.` };
}

/** `Found “abc”`, to begin a sentence that says what is expected. */
export function foundText(text: string): string {
  return text.trim() === '' ? 'Found nothing' : `Found “${text.trim()}”`;
}
