import type { LampKind, Rack, Shelf, Side, Tray } from '../../../shared-types/rack';
import { drainPoint, rectsOverlap, type Rect } from '../../engine/geometry';
import { lampBounds, leadOf } from '../../engine/lamps';
import { html, type Fragment, type Html } from '../html';
import { mm } from '../text';
import type { Placing } from './placing';

/** What a person at the rack finds their way by. */
export type Landmark = 'board' | 'drain' | 'lead';

const landmarks = ['board', 'drain', 'lead'] as const satisfies readonly Landmark[];

/** Those that a rack tells of; none: its charts are as they were. */
export function landmarksOf({ shelves }: Pick<Rack, 'shelves'>): Landmark[] {
  const boards = shelves.some((shelf) => (shelf.boards ?? []).length > 0);
  const drains = shelves.some(({ trays }) => trays.some((tray) => tray.drainPlace !== undefined));
  const leads = shelves.some(({ lamps }) => lamps.some((lamp) => lamp.leadEnd !== undefined));
  const found: Record<Landmark, boolean> = { board: boards, drain: drains, lead: leads };
  return landmarks.filter((name) => found[name]);
}

/**
 * The drain of a tray on its rim, where no pot stands, if it is on this part of the tray; both `part`
 * and `at` take things from the tray's corner.
 */
export function drawDrain(tray: Tray, part: Rect, at: Placing): Html | null {
  const point = drainPoint(tray);
  if (!point || !rectsOverlap(widened({ ...point, widthMm: 0, depthMm: 0 }), part)) return null;
  return drainMark(at.x(point.xMm), at.y(point.yMm));
}

const DRAIN_MM = 1.9;

/** A ring with a cross in it, as on drawings of pipes. */
export function drainMark(x: number, y: number): Html {
  const half = DRAIN_MM * Math.SQRT1_2;
  return html`<g class="drain"><circle cx="${mm(x)}" cy="${mm(y)}" r="${DRAIN_MM}" fill="#fff" stroke="#000" stroke-width=".5"/><path d="M${mm(x - half)},${mm(y - half)}l${mm(2 * half)},${mm(2 * half)}m0,${mm(-2 * half)}l${mm(-2 * half)},${mm(2 * half)}" fill="none" stroke="#000" stroke-width=".35"/></g>`;
}

/** The leads of the lamps over a part of a shelf, each where its lamp leaves that part. */
export function drawLeads(
  { lamps }: Shelf,
  kinds: readonly LampKind[],
  part: Rect,
  at: Placing,
): Html[] {
  return lamps.flatMap((lamp) => {
    const kind = kinds.find(({ id }) => id === lamp.kindId);
    const lead = kind ? leadOf(lamp, kind) : null;
    if (!kind || !lead || !rectsOverlap(widened(lampBounds(lamp, kind)), part)) return [];
    const across = TURN[lead.towards] % 180 === 0;
    const near = EDGE_MM / at.scale;
    const x = onSide(lead.xMm, part.xMm, part.xMm + part.widthMm, across ? near : 0);
    const y = onSide(lead.yMm, part.yMm, part.yMm + part.depthMm, across ? 0 : near);
    const towards = at.behind ? OPPOSITE[lead.towards] : lead.towards;
    return [leadMark(at.x(x), at.y(y), towards, at.scale < SMALL_SCALE ? 0.75 : 1)];
  });
}

/** A lead this near to a side, on paper, is drawn in it: between row letters and pots. */
const EDGE_MM = 4;
const INSIDE_SHARE = 0.35;
/** Where pots are drawn smaller than this, so is a lead. */
const SMALL_SCALE = 1 / 7;

function onSide(v: number, from: number, to: number, near: number): number {
  if (v < from + near) return from + INSIDE_SHARE * near;
  return v > to - near ? to - INSIDE_SHARE * near : v;
}

/** A line or a point overlaps nothing. */
const widened = ({ xMm, yMm, widthMm, depthMm }: Rect): Rect => ({
  xMm: xMm - 1,
  yMm: yMm - 1,
  widthMm: widthMm + 2,
  depthMm: depthMm + 2,
});

const OPPOSITE: Record<Side, Side> = { left: 'right', right: 'left', front: 'back', back: 'front' };
/** Turns of a mark that points right, on a page whose front is below. */
const TURN: Record<Side, number> = { right: 0, front: 90, left: 180, back: 270 };

/** A plug at the end of its lead, pointing to where the lead goes. */
export function leadMark(x: number, y: number, towards: Side, size = 1): Html {
  return html`<g class="lead" transform="translate(${mm(x)} ${mm(y)}) rotate(${TURN[towards]}) scale(${size})"><path d="M-1.6,0h.8M1.1,-.7h1.3M1.1,.7h1.3" fill="none" stroke="#fff" stroke-width="1.4"/><path d="M-1.8,0h1.4" fill="none" stroke="#000" stroke-width=".6"/><rect x="-.9" y="-1.3" width="2" height="2.6" rx=".5" fill="#000" stroke="#fff" stroke-width=".3"/><path d="M1.1,-.7h1.3M1.1,.7h1.3" fill="none" stroke="#000" stroke-width=".45"/></g>`;
}

/** The signs of a drawing with those of its landmarks, of which a key tells those that are drawn. */
export function withMarks<S extends string>(
  signs: ReadonlySet<S>,
  marks: Partial<Record<Landmark, Fragment>>,
): ReadonlySet<S | Landmark> {
  const isDrawn = (mark: Fragment | undefined) =>
    Array.isArray(mark) ? mark.length > 0 : Boolean(mark);
  return new Set<S | Landmark>([...signs, ...landmarks.filter((name) => isDrawn(marks[name]))]);
}
