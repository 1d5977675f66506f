import type { DeliveredEntry } from '../commands/records/logDelivered';
import type { LogFigure } from './logQuestions';

/** A day of a unit is one entry. */
export function entriesOf(figures: readonly LogFigure[]): DeliveredEntry[] {
  const entries = new Map<string, DeliveredEntry>();
  for (const { unitId, day, measure, value } of figures) {
    const key = `${unitId} ${day}`;
    const entry = entries.get(key) ?? { unitId, date: day, figures: {} };
    entry.figures[measure] = value;
    entries.set(key, entry);
  }
  return [...entries.values()];
}
