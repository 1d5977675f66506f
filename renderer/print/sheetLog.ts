import type { Plan } from '../../shared-types/plan';
import { incidentsOfPot } from '../document';
import type { Pot } from '../engine/geometry';
import { wrapText } from './text';

const LOG_LINES = 2;
/** More than two lines hold; a log may be a whole page. */
const MOST_SIGNS = 400;

/** The incidents that concern a tray or a pot in it, oldest first, each as one text. */
export function logOf(plan: Plan, pots: readonly Pot[]): string[] {
  const known = new Map(
    pots.flatMap((pot) => incidentsOfPot(plan, pot)).map((incident) => [incident.id, incident]),
  );
  return [...known.values()]
    .sort((a, b) => (a.date < b.date ? -1 : 1))
    .map(({ date, text }) => `${date} ${text.slice(0, MOST_SIGNS)}`);
}

/** The log in at most two lines; where it is longer, its end counts most. */
export function logLines(log: readonly string[], sizeMm: number, width: number): string[] {
  for (let from = 0; from < log.length; from++) {
    const words = `Log: ${from > 0 ? '… ' : ''}${log.slice(from).join('; ')}`;
    const lines = wrapText(words, sizeMm, width, LOG_LINES + 1);
    if (lines.length <= LOG_LINES) return lines;
  }
  return log.length === 0 ? [] : wrapText(`Log: … ${log.at(-1) ?? ''}`, sizeMm, width, LOG_LINES);
}
