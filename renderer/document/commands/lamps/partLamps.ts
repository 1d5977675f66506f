import type { Plan } from '../../../../shared-types/plan';
import type { Lamp, LampKind, Shelf } from '../../../../shared-types/rack';
import { baysOf, type Rect } from '../../../engine/geometry';
import { crossingsOf, ofLength } from '../../../engine/lamps';
import type { Command } from '../../command';
import { change, removeById, shelfIn, tenth } from '../../edit';
import { takeIdFrom } from '../../ids';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';

/** Room between a lamp's end and a board, for plug and clip (common practice). */
const END_MM = 10;
const SHORTEST_MM = 80;

/**
 * Takes down every lamp that a board stands in the way of, and hangs a shorter one built alike in
 * each bay that it spanned.
 */
export const partLamps: Command<{ shelfId: string }> = {
  name: 'partLamps',
  label: ({ shelfId }, plan) => `Hang shorter lamps over ${nameOf(plan, refTo('shelf', shelfId))}`,
  run: (plan, { shelfId }) =>
    change(plan, (draft) => {
      const shelf = shelfIn(draft, shelfId);
      const before = shelfIn(plan, shelfId);
      for (const { lamp, kind } of crossingsOf(before, plan.rack.lampKinds)) {
        const pieces = piecesOf(before, lamp, kind);
        const made = pieces.map(({ lengthMm }) => kindIdOf(draft, kind, lengthMm));
        if (pieces.length === 0) continue;
        removeById(shelf.lamps, lamp.id);
        pieces.forEach(({ xMm, yMm }, i) => {
          const kindId = made[i] ?? lamp.kindId;
          shelf.lamps.push({ ...lamp, id: takeIdFrom(draft, 'lamp'), kindId, xMm, yMm });
        });
      }
    }),
};

interface Piece {
  xMm: number;
  yMm: number;
  lengthMm: number;
}

/** The pieces of a lamp that lies along or across its shelf, one in each bay that it spans. */
function piecesOf(shelf: Shelf, lamp: Lamp, kind: LampKind): Piece[] {
  const quarter = ((lamp.rotationDeg % 180) + 180) % 180;
  if (quarter !== 0 && quarter !== 90) return [];
  const along = quarter === 0;
  const centre = along ? lamp.xMm : lamp.yMm;
  const other = along ? lamp.yMm : lamp.xMm;
  const [from, to] = [centre - kind.lengthMm / 2, centre + kind.lengthMm / 2];
  const spanOf = ({ xMm, yMm, widthMm, depthMm }: Rect) =>
    along
      ? { start: xMm, end: xMm + widthMm, low: yMm, high: yMm + depthMm }
      : { start: yMm, end: yMm + depthMm, low: xMm, high: xMm + widthMm };
  return baysOf(shelf).flatMap(({ rect }) => {
    const { start, end, low, high } = spanOf(rect);
    if (other < low || other > high) return [];
    const first = Math.max(from, start + END_MM);
    const last = Math.min(to, end - END_MM);
    const lengthMm = Math.floor(last - first);
    if (lengthMm < SHORTEST_MM) return [];
    const middle = tenth((first + last) / 2);
    return [
      along ? { xMm: middle, yMm: lamp.yMm, lengthMm } : { xMm: lamp.xMm, yMm: middle, lengthMm },
    ];
  });
}

/** The id of a kind of that length, made where the plan has none. */
function kindIdOf(
  draft: { nextId: number; rack: { lampKinds: LampKind[] }; display: Plan['display'] },
  kind: LampKind,
  lengthMm: number,
): string {
  const made = ofLength(kind, lengthMm, draft.display.lengths);
  const known = draft.rack.lampKinds.find(({ name }) => name === made.name);
  if (known) return known.id;
  const id = takeIdFrom(draft, 'lampKind');
  draft.rack.lampKinds.push({ ...made, id });
  return id;
}
