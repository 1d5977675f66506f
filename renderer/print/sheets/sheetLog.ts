import type { Plan } from '../../../shared-types/plan';
import { incidentsOfPot } from '../../document';
import { potsOfRack, type Pot } from '../../engine/geometry';
import { wrapText } from '../text';
import { sayDay } from '../../words';

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
    .map(({ date, text }) => `${sayDay(date)} ${text.slice(0, MOST_SIGNS)}`);
}

/** The log of each tray that anything is logged for, by tray id. */
export function logByTray(plan: Plan): Map<string, string[]> {
  const pots = potsOfRack(plan.rack);
  const trays = new Set(pots.map(({ trayId }) => trayId));
  const logs = [...trays].map((id) => {
    const ofTray = pots.filter(({ trayId }) => trayId === id);
    return [id, logOf(plan, ofTray)] as const;
  });
  return new Map(logs.filter(([, log]) => log.length > 0));
}

/** The log in at most two lines, or in `most`; where it is longer, its end counts most. */
export function logLines(
  log: readonly string[],
  sizeMm: number,
  width: number,
  most = LOG_LINES,
): string[] {
  for (let from = 0; from < log.length; from++) {
    const words = `Log: ${from > 0 ? '… ' : ''}${log.slice(from).join('; ')}`;
    const lines = wrapText(words, sizeMm, width, most + 1);
    if (lines.length <= most) return lines;
  }
  return log.length === 0 ? [] : wrapText(`Log: … ${log.at(-1) ?? ''}`, sizeMm, width, most);
}
