import type { LightPlan } from '../../../../shared-types/light';
import type { Lamp, Shelf } from '../../../../shared-types/rack';
import {
  bayAt,
  baysOf,
  canopyHeightMm,
  canopyOver,
  isParted,
  potsOfTray,
  tallestCanopyMm,
  trayCanopyMm,
  type Rect,
} from '../../geometry';
import type { ShelfInRoom } from '../../lamps';
import { shelfGrid } from '../field';
import type { PointMm } from '../sources/direct';
import { Refusal } from '../../../words';

/** Where lamps are arranged: one bay of a shelf, what hangs there and elsewhere, what is judged. */
export interface ArrangeSite {
  shelf: ShelfInRoom;
  /** The shelf with the lamps of all other shelves out. */
  amongDark: ShelfInRoom;
  bayId: string;
  /** Of the bay; the whole shelf where no board parts it. */
  rect: Rect;
  /** No board stands on the shelf. */
  open: boolean;
  /** Lamps of the bay, and of the shelf's other bays, which stay. */
  hung: readonly Lamp[];
  others: readonly Lamp[];
  /** Whether the figures are over pots or, where the bay has none, over the canopy. */
  over: 'pots' | 'canopy';
  points: PointMm[];
  /** Of the canopy: its mean over the shelf, and the tallest that it grows in the bay. mm. */
  heightMm: number;
  grownMm: number;
}

const CANOPY_GRID_MM = 50;

/** The bay of a shelf that lamps are arranged in. Throws where boards part it and no bay is named. */
export function arrangeSiteOf({
  shelf,
  bayId,
  canopyAt,
}: {
  shelf: ShelfInRoom;
  bayId?: string | undefined;
  canopyAt: LightPlan['canopyAt'];
}): ArrangeSite {
  const bays = baysOf(shelf);
  const open = !isParted(shelf);
  const bay = open ? bays[0] : bays.find(({ id }) => id === bayId);
  if (!bay) {
    throw new Refusal(
      `shelf ${shelf.number} is parted by boards: the id of one of its bays is expected; ` +
        `found ${bayId ?? 'none'}`,
    );
  }
  const { rect } = bay;
  const hangsHere = ({ xMm, yMm }: Lamp) => open || bayAt(bays, xMm, yMm) === bay;
  return {
    shelf,
    amongDark: darkAround(shelf),
    bayId: bay.id,
    rect,
    open,
    hung: shelf.lamps.filter(hangsHere),
    others: shelf.lamps.filter((lamp) => !hangsHere(lamp)),
    ...judgedPoints(shelf, rect, bay.id, canopyAt),
    heightMm: canopyHeightMm(shelf, canopyAt),
    grownMm: tallestCanopyMm(shelf, rect),
  };
}

function darkAround(shelf: ShelfInRoom): ShelfInRoom {
  const { others } = shelf;
  return others ? { ...shelf, others: others.map((other) => ({ ...other, lamps: [] })) } : shelf;
}

/** Lamps as they would be hung: those that hang there move first, with the hours they have burnt. */
export function asWorn(lamps: readonly Omit<Lamp, 'id'>[], { hung }: ArrangeSite) {
  return lamps.map((lamp, i) => {
    const burntHours = hung[i]?.burntHours;
    return burntHours === undefined ? lamp : { ...lamp, burntHours };
  });
}

/** Pots that are analysed, or all where every pot is a guard, or the canopy where there are none. */
function judgedPoints(
  shelf: Shelf,
  rect: Rect,
  bayId: string,
  canopyAt: LightPlan['canopyAt'],
): Pick<ArrangeSite, 'over' | 'points'> {
  const pots = shelf.trays.flatMap((tray) => {
    const zMm = trayCanopyMm(shelf, tray, canopyAt);
    return potsOfTray(shelf, tray)
      .filter((pot) => pot.bayId === bayId)
      .map(({ xMm, yMm, guard }) => ({ guard, point: { xMm, yMm, zMm } }));
  });
  const analysed = pots.filter((pot) => !pot.guard);
  const chosen = analysed.length > 0 ? analysed : pots;
  if (chosen.length > 0) return { over: 'pots', points: chosen.map(({ point }) => point) };
  const heightMm = canopyHeightMm(shelf, canopyAt);
  const heightAt = canopyOver(shelf, canopyAt);
  const grid = shelfGrid({ ...shelf, ...rect }, heightMm, CANOPY_GRID_MM).points;
  const points = grid.map(({ xMm, yMm }) => {
    const [x, y] = [rect.xMm + xMm, rect.yMm + yMm];
    return { xMm: x, yMm: y, zMm: heightAt(x, y) };
  });
  return { over: 'canopy', points };
}
