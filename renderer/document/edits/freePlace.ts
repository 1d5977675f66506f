import { boundsOf, rectsOverlap, type Rect } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { Shelf } from '../../../shared-types/rack';
import { inTheWay, placedOn, type OnShelf } from '../queries/placing';

export interface Shift {
  dxMm: number;
  dyMm: number;
}

/** Gaps that are tried, from the widest, where the shelf itself has none between two of the kind. */
const USUAL_GAPS_MM = { tray: [25, 0], lamp: [100, 25, 5], board: [] } as const;
const SAME_MM = 0.05;

const right = (r: Rect) => r.xMm + r.widthMm;
const back = (r: Rect) => r.yMm + r.depthMm;
const moved = (r: Rect, { dxMm, dyMm }: Shift): Rect => ({
  ...r,
  xMm: r.xMm + dxMm,
  yMm: r.yMm + dyMm,
});

/** The narrowest gap between two neighbours, side by side or one behind the other. */
function gapAmong(rects: readonly Rect[]): number | null {
  let least = Infinity;
  for (const a of rects) {
    for (const b of rects) {
      const beside = a.yMm < back(b) && b.yMm < back(a);
      const behind = a.xMm < right(b) && b.xMm < right(a);
      if (beside && b.xMm >= right(a)) least = Math.min(least, b.xMm - right(a));
      if (behind && b.yMm >= back(a)) least = Math.min(least, b.yMm - back(a));
    }
  }
  return least < Infinity ? least : null;
}

/** To the right in the same row first, then to the left, then behind, in front and elsewhere. */
function rank({ dxMm, dyMm }: Shift): number {
  const inRow = Math.abs(dyMm) < SAME_MM;
  const inColumn = Math.abs(dxMm) < SAME_MM;
  if (inRow) return dxMm > 0 ? 0 : 1;
  if (inColumn) return dyMm > 0 ? 2 : 3;
  return 4;
}

function shiftsBeside(own: Rect, others: readonly Rect[], gapMm: number): Shift[] {
  const across = [
    0,
    ...others.flatMap((o) => [right(o) + gapMm - own.xMm, o.xMm - gapMm - right(own)]),
  ];
  const deep = [
    0,
    ...others.flatMap((o) => [back(o) + gapMm - own.yMm, o.yMm - gapMm - back(own)]),
  ];
  return across
    .flatMap((dxMm) => deep.map((dyMm) => ({ dxMm, dyMm })))
    .sort(
      (a, b) =>
        rank(a) - rank(b) ||
        Math.abs(a.dxMm) + Math.abs(a.dyMm) - (Math.abs(b.dxMm) + Math.abs(b.dyMm)),
    );
}

/**
 * How far trays or lamps of one shelf have to go together to stand free on it, with the gap that its
 * others keep where there is room for it; null where there is none at all.
 */
export function freeShift(plan: Plan, shelf: Shelf, group: readonly OnShelf[]): Shift | null {
  const [first] = group;
  if (!first) return null;
  const kinds = [...new Set(group.map(({ kind }) => kind))];
  const others = kinds.flatMap((kind) => placedOn(plan.rack, shelf, kind).map(({ rect }) => rect));
  const own = boundsOf(group.map(({ rect }) => rect));
  const kept = gapAmong(placedOn(plan.rack, shelf, first.kind).map(({ rect }) => rect));
  // Between two lamps that hang too close for a third at their distance: halfway.
  const halfway = kept === null ? [] : [(kept - Math.min(own.widthMm, own.depthMm)) / 2];
  const gaps = [
    ...(kept === null ? [] : [kept]),
    ...(first.kind === 'lamp' ? halfway.filter((gap) => gap > 0) : []),
    ...USUAL_GAPS_MM[first.kind],
  ];
  for (const gap of gaps) {
    const free = shiftsBeside(own, others, gap).find((shift) =>
      group.every((one) => inTheWay(plan.rack, one, shelf, moved(one.rect, shift)) === null),
    );
    if (free) return free;
  }
  return null;
}

/** The middle of the widest bay that a copy of a board can part: how far it is from the board. */
export function freeBoardShift(
  plan: Plan,
  { shelf, board, rect }: Extract<OnShelf, { kind: 'board' }>,
): Shift | null {
  const across = board.direction === 'across';
  const side = across ? shelf.widthMm : shelf.depthMm;
  const like = placedOn(plan.rack, shelf, 'board').flatMap((one) =>
    one.kind === 'board' && one.board.direction === board.direction ? [one.rect] : [],
  );
  const edges = like
    .map((r) => (across ? { from: r.xMm, to: right(r) } : { from: r.yMm, to: back(r) }))
    .sort((a, b) => a.from - b.from);
  const bays = [...edges, { from: side, to: side }].map(({ from }, i) => ({
    from: edges[i - 1]?.to ?? 0,
    to: from,
  }));
  const widest = bays.reduce((best, bay) => (bay.to - bay.from > best.to - best.from ? bay : best));
  const least = board.thicknessMm + 2 * LEAST_BAY_MM;
  if (widest.to - widest.from < least) return null;
  const by = (widest.from + widest.to) / 2 - board.atMm;
  const shift = across ? { dxMm: by, dyMm: 0 } : { dxMm: 0, dyMm: by };
  return like.some((r) => rectsOverlap(r, moved(rect, shift))) ? null : shift;
}

/** On each side of a board something has to grow. */
const LEAST_BAY_MM = 20;
