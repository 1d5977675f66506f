import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import { measurementLabel } from '../queries/names';
import { unguardText } from './formulaGuard';

/** What a column of a table is taken for. */
export type ColumnUse =
  | { use: 'pot' }
  | { use: 'mark' }
  | { use: 'measurement'; measurementId: string }
  /** Its name fits several measurements; the person has to say which. */
  | { use: 'ambiguous'; measurementIds: string[] }
  | { use: 'nothing' };

const plain = (text: string) =>
  unguardText(text)
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

const potNames = new Set(['pot', 'code', 'pot code', 'pot id']);
const markNames = new Set(['mark', 'marks', 'status']);

/** Ways to write a measurement at the head of a column, the most telling first. */
function spellings(measurement: Measurement): string[][] {
  const { id, name, unit, moment, date } = measurement;
  const label = measurementLabel(measurement);
  const exact = [id, label, `${label} ${unit}`, `${name} ${moment}`, `${moment} ${name}`];
  if (date !== null) exact.push(`${name} ${date}`, `${label} ${date}`, `${label} ${date} ${unit}`);
  return [exact, [name, `${name} ${unit}`], [moment, `${moment} ${unit}`]];
}

/** The measurements that a column's name speaks for: one, several or none. */
function measurementsNamed(header: string, measurements: readonly Measurement[]): string[] {
  const name = plain(header);
  for (let rank = 0; rank < 3; rank++) {
    const named = measurements.filter((measurement) =>
      (spellings(measurement)[rank] ?? []).some((spelling) => plain(spelling) === name),
    );
    if (named.length > 0) return named.map((measurement) => measurement.id);
  }
  return [];
}

/**
 * Guesses from their names what the columns hold. Where no column is called pot, the one with the
 * most known pot codes is it. What a column is not taken for is said, too: `nothing`.
 */
export function guessColumns(
  plan: Plan,
  columns: readonly string[],
  knownCodes: (column: number) => number,
): ColumnUse[] {
  const measurements = plan.trial?.measurements ?? [];
  const uses = columns.map((header): ColumnUse => {
    const name = plain(header);
    if (potNames.has(name)) return { use: 'pot' };
    const [first, ...others] = measurementsNamed(header, measurements);
    if (first !== undefined) {
      return others.length === 0
        ? { use: 'measurement', measurementId: first }
        : { use: 'ambiguous', measurementIds: [first, ...others] };
    }
    return markNames.has(name) ? { use: 'mark' } : { use: 'nothing' };
  });
  if (uses.some(({ use }) => use === 'pot')) return uses;
  let best = -1;
  let most = 0;
  for (const [column, { use }] of uses.entries()) {
    const known = use === 'nothing' ? knownCodes(column) : 0;
    if (known > most) [best, most] = [column, known];
  }
  return uses.map((use, column) => (column === best ? { use: 'pot' } : use));
}
