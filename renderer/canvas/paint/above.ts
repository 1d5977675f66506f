import type { RackLook } from '../look';
import type { Scene, ShelfThing, TrayThing } from '../plane/scene';
import { toPixel } from '../plane/viewport';
import { paintDimension } from './dimension';
import { paintContours, paintField } from './field';
import { paintLampsAbove } from './lamps';
import type { Pen } from './pen';
import { paintBox, paintPlate, paintText, pixelRect } from './pen';
import { paintPots } from './pots';
import { paintPotWords } from './potWords';
import type { PotSprites } from './potSprite';

/** One shelf from above, its front at the lower side of the picture. */
export function paintAbove(pen: Pen, scene: Scene, look: RackLook, sprites: PotSprites): void {
  for (const thing of scene.things) {
    if (thing.kind === 'shelf') paintBoard(pen, thing, look);
  }
  for (const thing of scene.things) {
    if (thing.kind === 'tray') paintTray(pen, thing, look);
  }
  paintPots(pen, scene, look, sprites);
  const shelf = scene.things.find((t): t is ShelfThing => t.kind === 'shelf');
  if (shelf) paintContours(pen, scene, look, shelf.shelf);
  paintBlocks(pen, scene, look);
  paintLampsAbove(pen, scene, look.editable === false);
  paintPotWords(pen, scene, look);
  paintPoints(pen, scene, look);
}

function paintBoard(pen: Pen, thing: ShelfThing, look: RackLook): void {
  const { colours, ctx } = pen;
  const { shelf } = thing;
  const field = look.field?.get(shelf.id);
  const r = paintBox(pen, thing.box, colours.raised, null);
  if (field) paintField(pen, shelf, field);
  paintBox(pen, thing.box, null, colours.shelfLine, 1.5);
  ctx.fillStyle = colours.shelfLine;
  ctx.fillRect(r.x, r.y + r.h, r.w, 4);
  paintText(
    pen,
    `Shelf ${shelf.number}, from above`,
    { x: r.x, y: r.y - 14 },
    {
      size: 13,
      weight: 600,
    },
  );
  paintText(
    pen,
    'Front',
    { x: r.x + r.w / 2, y: r.y + r.h + 17 },
    {
      size: 12,
      weight: 600,
      align: 'center',
      colour: colours.inkSoft,
    },
  );
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
function paintEmptyHoles(pen: Pen, { tray }: TrayThing): void {
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
      across: tray.xMm + grid.firstXMm + (column - 1) * grid.pitchXMm + shift,
      up: tray.yMm + grid.firstYMm + (row - 1) * grid.pitchYMm,
    });
    ctx.beginPath();
    ctx.arc(at.x, at.y, (grid.potDiameterMm / 2) * view.scale, 0, Math.PI * 2);
    ctx.stroke();
  }
  ctx.setLineDash([]);
}

function paintBlocks(pen: Pen, scene: Scene, look: RackLook): void {
  const { ctx, colours, view } = pen;
  const shown = scene.things.find((t) => t.kind === 'shelf')?.shelf.id;
  for (const block of look.blocks ?? []) {
    if (block.shelfId !== shown) continue;
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

function paintPoints(pen: Pen, scene: Scene, look: RackLook): void {
  const { ctx, colours, view } = pen;
  const shown = scene.things.find((t) => t.kind === 'shelf')?.shelf.id;
  for (const point of look.points ?? []) {
    if (point.shelfId !== shown) continue;
    const at = toPixel(view, { across: point.xMm, up: point.yMm });
    ctx.strokeStyle = colours.raised;
    ctx.fillStyle = colours.ink;
    ctx.lineWidth = 1.5;
    ctx.beginPath();
    ctx.arc(at.x, at.y, 4.5, 0, Math.PI * 2);
    ctx.fill();
    ctx.stroke();
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
