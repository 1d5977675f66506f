import { paintBoards } from './boards';
import type { RackLook } from '../look';
import type { Scene } from '../plane/scene';
import type { ShelfThing, TrayThing } from '../plane/things';
import { shortLength } from '../plane/shortLength';
import { isNarrow, toPixel } from '../plane/viewport';
import { paintDimension } from './dimension';
import { paintContours, paintField } from './field';
import { paintLampsAbove } from './lamps';
import { paintLandmarks } from './landmarks';
import type { Pen } from './pen';
import { isSeen, paintBox, paintPlate, paintText, paintUprightText, penAt, pixelRect } from './pen';
import { paintPotWords } from './potWords';
import type { PotPicture } from './potPicture';

/** Shelves from above, each with its front at the lower side. */
export function paintAbove(pen: Pen, scene: Scene, look: RackLook, pots: PotPicture): void {
  const shelves = scene.things.filter((t): t is ShelfThing => t.kind === 'shelf');
  for (const thing of shelves) {
    paintBoard(pen, thing, look);
    if (scene.view === 'all') paintShelfName(pen, thing);
    else paintWordsAround(pen, thing);
  }
  for (const thing of scene.things) {
    if (thing.kind === 'tray' && isSeen(pen, thing.box)) paintTray(pen, thing, look);
  }
  pots.paint(pen, scene, look);
  for (const thing of shelves) {
    const local = penAt(pen, thing.origin);
    paintContours(local, scene, look, thing);
    paintBlocks(local, thing, look);
  }
  paintBoards(pen, scene);
  const presence = look.editable === false ? 'faint' : look.field ? 'outline' : 'solid';
  paintLampsAbove(pen, scene, presence);
  paintLandmarks(pen, scene);
}

/** What is written on shelves and pots, over all that is painted. */
export function paintAboveWords(pen: Pen, scene: Scene, look: RackLook): void {
  const shelves = scene.things.filter((t): t is ShelfThing => t.kind === 'shelf');
  // Of thousands of pots nobody keeps the places of words: signs of pots stand between them.
  paintPotWords({ ...pen, labels: undefined }, scene, look);
  for (const thing of shelves) paintPoints(penAt(pen, thing.origin), thing, look);
  const lowest = shelves[0];
  if (lowest) paintFrontWord(pen, lowest);
}

function paintBoard(pen: Pen, thing: ShelfThing, look: RackLook): void {
  const { colours, ctx } = pen;
  const { shelf } = thing;
  const field = look.field?.get(shelf.id);
  const r = paintBox(pen, thing.box, colours.raised, null);
  if (field) paintField(penAt(pen, thing.origin), shelf, field);
  paintBox(pen, thing.box, null, colours.shelfLine, 1.5);
  // The thick side is the front.
  ctx.fillStyle = colours.shelfLine;
  ctx.fillRect(r.x, r.y + r.h, r.w, r.w < 400 ? 3 : 4);
}

/** The names of shelves lower than this would run into each other. */
const LEAST_NAMED_PX = 14;

/** Left of its shelf, as from the front. */
function paintShelfName(pen: Pen, { shelf, box }: ShelfThing): void {
  const r = pixelRect(pen.view, box);
  if (r.h < LEAST_NAMED_PX) return;
  const middle = r.y + r.h / 2;
  const name = `Shelf ${shelf.number}`;
  if (isNarrow(pen.size)) {
    paintUprightText(pen, name, { x: r.x - 10, y: middle }, { size: 11, weight: 600 });
    return;
  }
  const tall = r.h > 34;
  const right = r.x - 12;
  const align = 'right';
  paintText(pen, name, { x: right, y: middle - (tall ? 8 : 0) }, { size: 13, weight: 600, align });
  if (!tall) return;
  const height = `at ${shortLength(shelf.heightMm, pen.lengths)}`;
  paintText(
    pen,
    height,
    { x: right, y: middle + 8 },
    { size: 11, align, colour: pen.colours.inkSoft },
  );
}

function paintFrontWord(pen: Pen, { box }: ShelfThing): void {
  const r = pixelRect(pen.view, box);
  const small = isNarrow(pen.size);
  paintText(
    pen,
    'Front',
    { x: r.x + r.w / 2, y: r.y + r.h + (small ? 13 : 17) },
    {
      size: small ? 11 : 12,
      weight: 600,
      align: 'center',
      colour: pen.colours.inkSoft,
    },
  );
}

/** Name and measures of the one shelf that is shown. */
function paintWordsAround(pen: Pen, { shelf, box }: ShelfThing): void {
  const { colours } = pen;
  const r = pixelRect(pen.view, box);
  const small = isNarrow(pen.size);
  paintText(
    pen,
    `Shelf ${shelf.number}, from above`,
    { x: r.x, y: r.y - (small ? 16 : 18) },
    { size: small ? 12 : 13, weight: 600 },
  );
  if (small) return;
  const style = { colour: colours.inkSoft, ground: colours.ground };
  const below = r.y + r.h + 38;
  paintDimension(pen, { x: r.x, y: below }, { x: r.x + r.w, y: below }, shelf.widthMm, style);
  const beside = r.x + r.w + 26;
  paintDimension(pen, { x: beside, y: r.y }, { x: beside, y: r.y + r.h }, shelf.depthMm, style);
}

function paintTray(pen: Pen, thing: TrayThing, look: RackLook): void {
  const { colours, ctx } = pen;
  const overField = look.field?.has(thing.shelf.id) === true;
  const water = look.waterMm?.get(thing.tray.id);
  paintBox(pen, thing.box, overField ? null : colours.tray, null);
  if (water !== undefined && water > 0) {
    ctx.globalAlpha = Math.min(0.9, 0.25 + water / Math.max(1, thing.tray.rimHeightMm));
    paintBox(pen, thing.box, colours.water, null);
    ctx.globalAlpha = 1;
  }
  const r = paintBox(pen, thing.box, null, overField ? colours.ink : colours.trayLine, 1.5);
  if (!overField && r.w > 60 && r.h > 60) {
    ctx.strokeStyle = colours.trayLine;
    ctx.globalAlpha = 0.35;
    ctx.lineWidth = 1;
    ctx.strokeRect(r.x + 3.5, r.y + 3.5, r.w - 7, r.h - 7);
    ctx.globalAlpha = 1;
  }
  if (look.editable === true) paintEmptyHoles(pen, thing);
}

/** Holes left empty, as thin dashed circles, so that they can be found and filled again. */
function paintEmptyHoles(pen: Pen, { tray, box }: TrayThing): void {
  const { ctx, view, colours } = pen;
  const { grid } = tray;
  if (!grid || grid.potDiameterMm * view.scale < 5) return;
  ctx.strokeStyle = colours.trayLine;
  ctx.lineWidth = 1;
  ctx.setLineDash([3, 3]);
  for (const hole of grid.empty) {
    const [row = 0, column = 0] = hole.split(':').map(Number);
    if (row < 1 || row > grid.rows || column < 1 || column > grid.columns) continue;
    const shift = grid.pattern === 'staggered' && row % 2 === 0 ? grid.pitchXMm / 2 : 0;
    const at = toPixel(view, {
      across: box.left + grid.firstXMm + (column - 1) * grid.pitchXMm + shift,
      up: box.bottom + grid.firstYMm + (row - 1) * grid.pitchYMm,
    });
    ctx.beginPath();
    ctx.arc(at.x, at.y, (grid.potDiameterMm / 2) * view.scale, 0, Math.PI * 2);
    ctx.stroke();
  }
  ctx.setLineDash([]);
}

function paintBlocks(pen: Pen, { shelf }: ShelfThing, look: RackLook): void {
  const { ctx, colours, view } = pen;
  for (const block of look.blocks ?? []) {
    if (block.shelfId !== shelf.id) continue;
    ctx.strokeStyle = colours.accent;
    ctx.lineWidth = 2.5;
    ctx.setLineDash([10, 4, 2, 4]);
    for (const rect of block.rects) {
      const r = pixelRect(view, {
        left: rect.xMm,
        right: rect.xMm + rect.widthMm,
        bottom: rect.yMm,
        top: rect.yMm + rect.depthMm,
      });
      ctx.strokeRect(r.x, r.y, r.w, r.h);
    }
    ctx.setLineDash([]);
    const first = block.rects[0];
    if (!first) continue;
    const r = pixelRect(view, {
      left: first.xMm,
      right: first.xMm + first.widthMm,
      bottom: first.yMm,
      top: first.yMm + first.depthMm,
    });
    if (r.w < 30) continue;
    paintPlate(
      pen,
      block.name,
      { x: r.x + r.w - 36, y: r.y },
      {
        fill: colours.accentSoft,
        ink: colours.accent,
        line: colours.accent,
      },
    );
  }
}

// Pixels per mm from which a point's text leaves the pots around it to be seen.
const TEXT_FROM_SCALE = 0.5;

function paintPoints(pen: Pen, { shelf }: ShelfThing, look: RackLook): void {
  const { ctx, colours, view } = pen;
  for (const point of look.points ?? []) {
    if (point.shelfId !== shelf.id) continue;
    const at = toPixel(view, { across: point.xMm, up: point.yMm });
    ctx.strokeStyle = colours.raised;
    ctx.fillStyle = colours.ink;
    ctx.lineWidth = 1.5;
    ctx.beginPath();
    ctx.arc(at.x, at.y, 4.5, 0, Math.PI * 2);
    ctx.fill();
    ctx.stroke();
    if (view.scale < TEXT_FROM_SCALE) continue;
    paintPlate(
      pen,
      point.text,
      { x: at.x, y: at.y - 14 },
      {
        fill: colours.raised,
        ink: colours.ink,
        line: colours.lineStrong,
        size: 10,
      },
    );
  }
}
