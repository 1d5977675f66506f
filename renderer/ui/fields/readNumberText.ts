import { readTypedFigure, twoReadings } from '../../words';

/**
 * Reads a number typed into a field. `step`: the finest step that is kept. Where it has two
 * readings, `expected` asks which; null: it is no number.
 */
export function readNumberText(
  text: string,
  step: number,
): { ok: true; value: number } | { ok: false; expected: string | null } {
  const read = readTypedFigure(text, step);
  if (read.ok) return read;
  return { ok: false, expected: read.asked ? twoReadings(text, read.asked) : null };
}
