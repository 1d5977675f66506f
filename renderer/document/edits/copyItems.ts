import type { Plan } from '../../../shared-types/plan';
import type { Board, Lamp, Shelf, Tray } from '../../../shared-types/rack';
import { takeIdFrom } from '../ids';
import { freeTrayLetter } from '../new';
import { setBoards } from './boards';

/** Each puts a copy on a shelf of the caller's own draft, with figures of its own. */

export function copyTray(draft: Plan, to: Shelf, tray: Tray, change: Partial<Tray> = {}): void {
  const id = takeIdFrom(draft, 'tray');
  to.trays.push({ ...tray, id, letter: freeTrayLetter(to.trays), ...change });
}

export function copyBoard(draft: Plan, to: Shelf, board: Board, change: Partial<Board> = {}): void {
  const id = takeIdFrom(draft, 'board');
  setBoards(draft, to, [...(to.boards ?? []), { ...board, id, ...change }]);
}

export function copyLamp(
  draft: Plan,
  { from, to }: { from: Shelf; to: Shelf },
  lamp: Lamp,
  change: Partial<Lamp> = {},
): void {
  const group = lamp.group === `shelf ${from.number}` ? `shelf ${to.number}` : lamp.group;
  const zMm = Math.min(change.zMm ?? lamp.zMm, to.id === from.id ? Infinity : to.clearanceMm);
  to.lamps.push({
    ...lamp,
    id: takeIdFrom(draft, 'lamp'),
    group,
    ...change,
    zMm: Math.max(0, zMm),
  });
}
