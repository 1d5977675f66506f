import type { Plan } from '../../../shared-types/plan';
import type { Shelf } from '../../../shared-types/rack';
import { applyCommand } from '../../document/apply';
import type { BoundCommand } from '../../document';
import { baysOf, potsOfTray } from '../../engine/geometry';
import { crossingsOf } from '../../engine/lamps';

/** What setting, moving or copying boards does to the shelves that it touches. */
export interface BoardEffect {
  shelves: number;
  /** Bays of those shelves afterwards. */
  bays: number;
  potsLost: number;
  potsWon: number;
  /** Lamps that a board then stands in the way of. */
  lampsCrossed: number;
}

/** What a command on boards would do, before it is done; the reason where it is refused. */
export function boardEffectOf(
  plan: Plan,
  command: BoundCommand,
): { ok: true; effect: BoardEffect } | { ok: false; reason: string } {
  const outcome = applyCommand(plan, command, null);
  if (!outcome.ok) return outcome;
  const before = new Map(plan.rack.shelves.map((shelf) => [shelf.id, shelf]));
  const effect: BoardEffect = { shelves: 0, bays: 0, potsLost: 0, potsWon: 0, lampsCrossed: 0 };
  for (const shelf of outcome.plan.rack.shelves) {
    const old = before.get(shelf.id);
    if (!old || old === shelf) continue;
    const [was, is] = [potIds(old), potIds(shelf)];
    effect.shelves += 1;
    effect.bays += baysOf(shelf).length;
    effect.potsLost += [...was].filter((id) => !is.has(id)).length;
    effect.potsWon += [...is].filter((id) => !was.has(id)).length;
    effect.lampsCrossed += crossingsOf(shelf, outcome.plan.rack.lampKinds).length;
  }
  return { ok: true, effect };
}

const potIds = (shelf: Shelf): Set<string> =>
  new Set(shelf.trays.flatMap((tray) => potsOfTray(shelf, tray).map(({ id }) => id)));
