import type { PhotometryRefusal } from './numbers';

const WITH_COMMA = /(?<![\d.,])[+-]?\d+,\d+(?![\d.,])/;

/**
 * Why a file was refused, where it was because its numbers are written with decimal commas: commas
 * part numbers in LM-63, so that 0,5 is two of them. Null where points in their place help nothing.
 */
export function decimalCommas<A extends { ok: true }>(
  text: string,
  refusal: PhotometryRefusal,
  read: (text: string) => A | PhotometryRefusal,
): PhotometryRefusal | null {
  const lines = text.split(/\r\n|\r|\n/);
  const tilt = lines.findIndex((line) => /^\s*TILT\s*=/i.test(line));
  const first = lines.findIndex((line, i) => i > tilt && WITH_COMMA.test(line));
  if (tilt < 0 || first < 0) return null;
  const pointed = lines.map((line, i) => (i > tilt ? line.replaceAll(',', '.') : line));
  const again = read(pointed.join('\n'));
  // It also helps where another fault stands farther on.
  if (!again.ok && again.line <= refusal.line) return null;
  const word = WITH_COMMA.exec(lines[first] ?? '')?.[0] ?? '';
  return {
    ok: false,
    line: first + 1,
    reason: 'decimal commas',
    found: `“${word}”`,
    expected: `decimal points: ${word.replace(',', '.')}`,
  };
}
