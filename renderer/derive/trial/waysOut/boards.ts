import type { Plan } from '../../../../shared-types/plan';
import type { Board, Shelf } from '../../../../shared-types/rack';
import type { Factor } from '../../../../shared-types/trial/trial';
import { bind, together, type BoundCommand } from '../../../document';
import { addBoard, partLamps, redesign } from '../../../document/commands';
import { cutHoles } from '../../../document/edits/boards';
import { newBoard } from '../../../document/new';
import { baysOf } from '../../../engine/geometry';
import { crossingsOf } from '../../../engine/lamps';
import { FEWEST_ERROR_DF } from '../../../engine/trial';
import { plural } from '../../../words';
import { designsFor } from './split';
import { measured, wayBy, type Today, type WayOut } from './way';

/** How many bays a shelf is parted into at the most: more leave no room for lamps. */
const MOST_BAYS = 3;
const STEP_MM = 5;

/**
 * Boards across every shelf, so that each has bays with lamps of their own: as few as leave enough
 * to judge light by, each where it costs the fewest pots.
 */
export function boards(factor: Factor, today: Today): WayOut | null {
  const { shelves } = today.plan.rack;
  if (factor.appliedThrough !== 'light' || shelves.some((shelf) => baysOf(shelf).length > 1)) {
    return null;
  }
  let best: WayOut | null = null;
  for (let bays = 2; bays <= MOST_BAYS; bays++) {
    const way = partedInto(bays, factor, today);
    if (!way) continue;
    if (errorDf(way, factor) >= FEWEST_ERROR_DF) return way;
    if (!best || errorDf(way, factor) > errorDf(best, factor)) best = way;
  }
  return best;
}

const errorDf = ({ questions }: WayOut, { id }: Factor): number =>
  questions.find(({ factorId }) => factorId === id)?.factor.errorDf ?? 0;

/** The best of the designs for bays: drawn over the whole rack, or within each shelf. */
function partedInto(bays: number, factor: Factor, today: Today): WayOut | null {
  const { plan } = today;
  if (!plan.trial) return null;
  const parting = partingOf(bays, plan.rack.shelves);
  const boardCount = parting.length;
  const lamps = plan.rack.shelves.flatMap(({ id }) => bind(partLamps, { shelfId: id }));
  const ways = designsFor(plan.trial, factor, 'bay').flatMap(([blocks, scheme]) => {
    const design = bind(redesign, { factorId: factor.id, unit: 'bay', blocks, scheme });
    const command = together(
      () => (bays === 2 ? 'Part each shelf by a board' : `Part each shelf into ${bays} bays`),
      [...parting, ...lamps, design],
    );
    return (
      wayBy(command, factor.id, today, ({ unitCount }, after) => {
        const lost = measured(plan) - measured(after);
        const [before, hung] = [lampIds(plan), lampIds(after)];
        const gone = [...before].filter((id) => !hung.has(id)).length;
        const short = [...hung].filter((id) => !before.has(id)).length;
        const where = blocks.by === 'shelf' ? 'within each shelf' : 'over all bays';
        return {
          title:
            bays === 2 ? 'A white board across each shelf' : `${bays - 1} boards across each shelf`,
          says: `${unitCount} bays, each with lamps of its own; ${factor.name} is shuffled ${where}.`,
          costs: [
            plural(boardCount, 'board'),
            ...(short > 0 ? [`${plural(short, 'short lamp')} in place of ${gone}`] : []),
            ...(lost > 0 ? [`${plural(lost, 'pot')} fewer`] : []),
          ],
          price: 2 + boardCount / 100 + lost / 1000,
        };
      }) ?? []
    );
  });
  // A lamp that cannot be had shorter would hang through a board.
  const whole = ways.filter(({ after: { rack } }) =>
    rack.shelves.every((shelf) => crossingsOf(shelf, rack.lampKinds).length === 0),
  );
  return whole.reduce<WayOut | null>(
    (best, way) => (best && errorDf(best, factor) >= errorDf(way, factor) ? best : way),
    null,
  );
}

const lampIds = ({ rack }: Plan): Set<string> =>
  new Set(rack.shelves.flatMap((shelf) => shelf.lamps.map(({ id }) => id)));

/** The commands that stand the boards, shelf by shelf. */
const partingOf = (bays: number, shelves: readonly Shelf[]): BoundCommand[] =>
  shelves.flatMap((shelf) =>
    Array.from({ length: bays - 1 }, (_, k) => {
      const board = cheapest(shelf, (shelf.widthMm * (k + 1)) / bays, shelf.widthMm / bays / 6);
      return bind(addBoard, { shelfIds: [shelf.id], board });
    }),
  );

/** A board near a place, where it stands over the fewest pots. */
function cheapest(shelf: Shelf, nearMm: number, reachMm: number): Omit<Board, 'id'> {
  const board = newBoard(shelf, 'across');
  let best = { atMm: nearMm, cut: Infinity };
  // From the place outwards, so that of equal ones the nearest is taken.
  for (let off = 0; off <= reachMm; off += STEP_MM) {
    for (const atMm of off === 0 ? [nearMm] : [nearMm - off, nearMm + off]) {
      const there = { ...board, id: 'new', atMm };
      const cut = shelf.trays.reduce((sum, tray) => sum + cutHoles(shelf, tray, [there]).size, 0);
      if (cut < best.cut) best = { atMm, cut };
    }
    if (best.cut === 0) break;
  }
  return { ...board, atMm: Math.round(best.atMm) };
}
