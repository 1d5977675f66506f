import type { Pot } from './pots';

/**
 * Pots in walking order: tray by tray as listed, rows from the front, every second row backwards,
 * so that the hand never travels back over an empty row (boustrophedon).
 */
export function walkingOrder(pots: readonly Pot[]): Pot[] {
  const byTray = new Map<string, Pot[]>();
  for (const pot of pots) {
    const list = byTray.get(pot.trayId);
    if (list) list.push(pot);
    else byTray.set(pot.trayId, [pot]);
  }
  return [...byTray.values()].flatMap((list) =>
    [...list].sort((a, b) => {
      if (a.row !== b.row) return a.row - b.row;
      return a.row % 2 === 1 ? a.column - b.column : b.column - a.column;
    }),
  );
}
