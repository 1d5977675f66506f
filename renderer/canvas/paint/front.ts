import type { Canopy, Shelf } from '../../../shared-types/rack';
import { canopyHeightMm } from '../../engine/geometry';
import { shortLength } from '../plane/shortLength';
import type { RackLook } from '../look';
import { BETWEEN_RACKS_MM, type Scene } from '../plane/scene';
import type { ShelfThing, TrayThing } from '../plane/things';
import { isNarrow, toPixel } from '../plane/viewport';
import { paintBoards } from './boards';
import { paintDimension } from './dimension';
import { paintFieldBand } from './field';
import { paintLampsFront } from './lamps';
import type { Pen } from './pen';
import { isSeen, paintBox, paintText, paintUprightText, penAt, pixelRect } from './pen';
import type { PotPicture } from './potPicture';

const POST_MM = 22;
/** Between two racks, in pixels: a clear height beside the one and the name of the next. */
const LEAST_BETWEEN = 210;
const DIGIT_PX = 7;
/** A bay lower than this, in pixels, has no room for the name of its shelf upright. */
const LEAST_NAME = 48;

/** The whole rack from the front: posts, boards, trays, pots, lamps, canopy lines, figures. */
export function paintFront(pen: Pen, scene: Scene, look: RackLook, pots: PotPicture): void {
  const shelves = scene.things.filter((t): t is ShelfThing => t.kind === 'shelf');
  paintFloor(pen, shelves);
  const racks = racksOnPlane(shelves);
  const narrow =
    isNarrow(pen.size) || (racks.length > 1 && BETWEEN_RACKS_MM * pen.view.scale < LEAST_BETWEEN);
  for (const rack of racks) {
    paintPosts(pen, rack);
    const widest = Math.max(...rack.map((s) => s.bay.right));
    for (const thing of rack) paintBay(pen, thing, widest, narrow);
  }
  for (const thing of scene.things) {
    if (thing.kind === 'tray' && isSeen(pen, thing.box)) paintTrayBack(pen, thing);
  }
  pots.paint(pen, scene, look);
  for (const thing of scene.things) {
    if (thing.kind === 'tray' && isSeen(pen, thing.box)) paintTrayFront(pen, thing, look);
  }
  paintBoards(pen, scene);
  for (const thing of shelves) paintCanopy(penAt(pen, thing.origin), thing, look);
  paintLampsFront(pen, scene);
  for (const thing of shelves) paintBoardFront(pen, thing, narrow);
}

/** Shelves that are drawn above each other. */
function racksOnPlane(shelves: readonly ShelfThing[]): ShelfThing[][] {
  const racks = new Map<number, ShelfThing[]>();
  for (const thing of shelves) {
    const { across } = thing.origin;
    racks.set(across, [...(racks.get(across) ?? []), thing]);
  }
  return [...racks.values()];
}

function paintPosts(pen: Pen, rack: readonly ShelfThing[]): void {
  const { colours } = pen;
  const from = Math.min(...rack.map((s) => s.bay.left));
  const to = Math.max(...rack.map((s) => s.bay.right));
  const top = Math.max(...rack.map((s) => s.bay.top));
  for (const left of [from - POST_MM, to]) {
    const post = { left, right: left + POST_MM, bottom: 0, top };
    paintBox(pen, post, colours.shelf, colours.shelfLine);
  }
}

function paintFloor(pen: Pen, shelves: readonly ShelfThing[]): void {
  if (shelves.length === 0) return;
  const { ctx, colours, view } = pen;
  const width = Math.max(...shelves.map((s) => s.bay.right));
  const a = toPixel(view, { across: -120, up: 0 });
  const b = toPixel(view, { across: width + 120, up: 0 });
  ctx.strokeStyle = colours.lineStrong;
  ctx.lineWidth = 1.5;
  ctx.beginPath();
  ctx.moveTo(a.x, a.y);
  ctx.lineTo(b.x, b.y);
  ctx.stroke();
  paintText(pen, 'floor', { x: a.x, y: a.y + 10 }, { size: 11, colour: colours.inkSoft });
}

function paintBay(pen: Pen, thing: ShelfThing, rightMm: number, narrow: boolean): void {
  const { colours, view } = pen;
  const { shelf } = thing;
  const r = paintBox(pen, thing.bay, colours.raised, colours.line);
  if (narrow) return;
  // All clear heights stand in one line, right of the post.
  const gauge = toPixel(view, { across: rightMm + POST_MM, up: 0 }).x + 20;
  paintDimension(pen, { x: gauge, y: r.y }, { x: gauge, y: r.y + r.h }, shelf.clearanceMm, {
    colour: colours.inkSoft,
    ground: colours.ground,
  });
}

/** Where the leaves reach, at planting and at harvest; with a field, its colours along their middle. */
function paintCanopy(pen: Pen, thing: ShelfThing, look: RackLook): void {
  const { shelf } = thing;
  const field = look.field?.get(shelf.id);
  if (field) paintFieldBand(pen, shelf, field, canopyHeightMm(shelf, 'midway'));
  for (const [span, canopy] of canopiesOf(shelf)) paintCanopySpan(pen, thing, span, canopy);
}

/** What is written within the bays, over all that is painted. */
export function paintFrontWords(pen: Pen, scene: Scene): void {
  for (const thing of scene.things) {
    if (thing.kind !== 'shelf') continue;
    const own = penAt(pen, thing.origin);
    for (const [span, canopy] of canopiesOf(thing.shelf)) nameCanopy(own, thing, span, canopy);
  }
}

interface Span {
  fromMm: number;
  toMm: number;
}

/** One canopy over the shelf, or one over each of its trays. */
function canopiesOf(shelf: Shelf): (readonly [Span, Canopy])[] {
  const own = shelf.trays.some(({ canopy }) => canopy !== undefined);
  if (!own) return [[{ fromMm: 0, toMm: shelf.widthMm }, shelf.canopy]];
  return shelf.trays.map(({ xMm, widthMm, canopy = shelf.canopy }) => [
    { fromMm: xMm, toMm: xMm + widthMm },
    canopy,
  ]);
}

const CANOPY_WORDS = { planting: 'canopy at planting', harvest: 'canopy at harvest' };

/** The two heights of one canopy, over the shelf or over one of its trays. */
function paintCanopySpan(
  { ctx, colours, view }: Pen,
  { shelf }: ShelfThing,
  { fromMm, toMm }: Span,
  { plantingMm, harvestMm }: Canopy,
): void {
  for (const mm of [plantingMm, harvestMm]) {
    const from = toPixel(view, { across: fromMm, up: shelf.heightMm + mm });
    const to = toPixel(view, { across: toMm, up: shelf.heightMm + mm });
    ctx.strokeStyle = colours.good;
    ctx.lineWidth = 1;
    ctx.setLineDash([2, 4]);
    ctx.beginPath();
    ctx.moveTo(from.x, to.y);
    ctx.lineTo(to.x, to.y);
    ctx.stroke();
    ctx.setLineDash([]);
  }
}

/** The words over its two lines, where there is room for them. */
function nameCanopy(
  pen: Pen,
  { shelf, bay }: ShelfThing,
  { fromMm, toMm }: Span,
  { plantingMm, harvestMm }: Canopy,
): void {
  const { colours, view } = pen;
  const whole = toMm - fromMm === shelf.widthMm;
  const wide = (toMm - fromMm) * view.scale > (whole ? 260 : 110);
  if (!wide || pixelRect(view, bay).h <= 70) return;
  // Two lines close together would print their words over each other.
  const apart = Math.abs(harvestMm - plantingMm) * view.scale > 14;
  for (const which of apart ? (['planting', 'harvest'] as const) : (['harvest'] as const)) {
    const mm = which === 'planting' ? plantingMm : harvestMm;
    const at = toPixel(view, { across: toMm, up: shelf.heightMm + mm });
    const style = { size: 10, align: 'right', colour: colours.good, halo: colours.raised } as const;
    paintText(pen, CANOPY_WORDS[which], { x: at.x - 6, y: at.y - 7 }, style);
  }
}

function paintBoardFront(pen: Pen, thing: ShelfThing, narrow: boolean): void {
  const { colours, view } = pen;
  const { shelf } = thing;
  const r = paintBox(pen, thing.box, colours.shelf, colours.shelfLine);
  const post = POST_MM * view.scale;
  if (narrow) {
    const bay = pixelRect(view, thing.bay);
    const at = { x: r.x - post - 9, y: bay.y + bay.h / 2 };
    // The name lies upright in the height of its bay, or is cut to the number.
    const words = bay.h < LEAST_NAME ? `${shelf.number}` : `Shelf ${shelf.number}`;
    if (bay.h < words.length * DIGIT_PX + 4) return;
    paintUprightText(pen, words, at, { size: 11, weight: 600 });
    return;
  }
  const right = r.x - post - 10;
  paintText(
    pen,
    `Shelf ${shelf.number}`,
    { x: right, y: r.y - 8 },
    {
      size: 13,
      weight: 600,
      align: 'right',
    },
  );
  paintText(
    pen,
    `at ${shortLength(shelf.heightMm, pen.lengths)}`,
    { x: right, y: r.y + 8 },
    {
      size: 11,
      align: 'right',
      colour: colours.inkSoft,
    },
  );
}

function paintTrayBack(pen: Pen, thing: TrayThing): void {
  paintBox(pen, thing.box, pen.colours.tray, null);
}

function paintTrayFront(pen: Pen, thing: TrayThing, look: RackLook): void {
  const { ctx, colours } = pen;
  const r = pixelRect(pen.view, thing.box);
  // The pots are seen through the tray's side, as far as they stand in it.
  ctx.globalAlpha = 0.42;
  ctx.fillStyle = colours.tray;
  ctx.fillRect(r.x, r.y, r.w, r.h);
  const water = look.waterMm?.get(thing.tray.id);
  if (water !== undefined && water > 0) {
    ctx.fillStyle = colours.water;
    const h = Math.min(water, thing.tray.rimHeightMm) * pen.view.scale;
    ctx.fillRect(r.x, r.y + r.h - h, r.w, h);
  }
  ctx.globalAlpha = 1;
  ctx.strokeStyle = colours.trayLine;
  ctx.lineWidth = 1.5;
  ctx.strokeRect(r.x, r.y, r.w, r.h);
}
