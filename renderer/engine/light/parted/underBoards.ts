import type { Lamp, LampKind, Shelf } from '../../../../shared-types/rack';
import { boardsAlong } from '../../geometry';
import { kindOfLamp } from '../../lamps';
import { readyLamps, type ReadyLamp } from '../sources/direct';
import { lampFrameOf } from '../sources/frame';
import { withLampsClear } from '../sources/clear';
import type { BayPart } from './bayParts';
import { lampInSlices } from './inSlices';
import { atLeast, NOWHERE } from './lampPart';

/** A board between a lamp and a point, by the face that is on the lamp's side. */
interface Edge {
  axis: 'x' | 'y';
  /** 1 where the lamp is on the far side as x or y grows, −1 where it is on the near one. */
  side: 1 | -1;
  faceMm: number;
  downToMm: number;
}

/** The lamps that send direct light into a bay, in its axes. */
export interface BayLamps {
  own: ReadyLamp[];
  /** The same, clear of the surfaces that they light. */
  clear: ReadyLamp[];
  /** Those of other bays, as far as boards let their light pass beneath. */
  under: { from: number; lamps: ReadyLamp[] }[];
}

/** All that light the surfaces of a bay. */
export const lampsOnSurfaces = ({ clear, under }: BayLamps): ReadyLamp[] => [
  ...clear,
  ...under.flatMap(({ lamps }) => lamps),
];

export const everyLamp = ({ own, under }: BayLamps): ReadyLamp[] => [
  ...own,
  ...under.flatMap(({ lamps }) => lamps),
];

/** Makes ready what lights a bay. Throws where a lamp makes no sense. */
export function lampsOfBay(
  shelf: Shelf,
  parts: readonly BayPart[],
  target: BayPart,
  heightMm: number,
): BayLamps {
  const own = readyLamps(target.shelf, target.lampKinds);
  const clear = withLampsClear(target.shelf);
  return {
    own,
    clear: clear === target.shelf ? own : readyLamps(clear, target.lampKinds),
    under: lampsUnderBoards(shelf, parts, target, heightMm),
  };
}

function lampsUnderBoards(
  shelf: Shelf,
  parts: readonly BayPart[],
  target: BayPart,
  heightMm: number,
): BayLamps['under'] {
  return parts.flatMap((source, from) => {
    if (source === target) return [];
    const edges = edgesBetween(shelf, source, target);
    if (edges.some(({ downToMm }) => downToMm <= heightMm)) return [];
    const lamps = source.shelf.lamps.map((lamp) => {
      const kind = kindOfLamp(source, lamp);
      const xMm = lamp.xMm + source.bay.rect.xMm - target.bay.rect.xMm;
      const yMm = lamp.yMm + source.bay.rect.yMm - target.bay.rect.yMm;
      return seenUnder({ ...lamp, xMm, yMm }, kind, edges);
    });
    return [{ from, lamps }];
  });
}

function edgesBetween(shelf: Shelf, source: BayPart, target: BayPart): Edge[] {
  const axes = [
    ['across', 'x', source.bay.rect.xMm, target.bay.rect.xMm],
    ['lengthwise', 'y', source.bay.rect.yMm, target.bay.rect.yMm],
  ] as const;
  return axes.flatMap(([direction, axis, from, to]) =>
    boardsAlong(shelf, direction)
      .filter(({ atMm }) => atMm > Math.min(from, to) && atMm < Math.max(from, to))
      .map(({ atMm, thicknessMm, downToMm }): Edge => {
        const side = from > to ? 1 : -1;
        return { axis, side, faceMm: atMm + (side * thicknessMm) / 2 - to, downToMm };
      }),
  );
}

/**
 * A ray from a point at height z under a board's edge at height e, seen at the face a distance d
 * away, meets a lamp at height h only at a distance of at least d (h − z)/(e − z). That bounds the
 * lamp along its length.
 */
function seenUnder(lamp: Lamp, kind: LampKind, edges: readonly Edge[]): ReadyLamp {
  const { ux, uy } = lampFrameOf(lamp);
  return lampInSlices(lamp, kind, (whole, x, y, z, cx, cy, cz) => {
    let reach = whole;
    for (const { axis, side, faceMm, downToMm } of edges) {
      if (z >= downToMm) return NOWHERE;
      const [p, c, u] = axis === 'x' ? [x, cx, ux] : [y, cy, uy];
      const least = (Math.abs(faceMm - p) * (cz - z)) / (downToMm - z);
      reach = atLeast(reach, side * (c - p), side * u, least);
    }
    return reach;
  });
}
