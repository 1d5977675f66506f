import { formatLength } from '../../ui/length';
import type { RackLook } from '../look';
import type { Scene, ShelfThing, TrayThing } from '../plane/scene';
import { BOARD_MM } from '../plane/scene';
import { toPixel } from '../plane/viewport';
import { paintDimension } from './dimension';
import { paintFieldBand } from './field';
import { paintLampsFront } from './lamps';
import type { Pen } from './pen';
import { paintBox, paintText, pixelRect, setFont } from './pen';
import { paintPots } from './pots';
import type { PotSprites } from './potSprite';

const POST_MM = 22;

/** The whole rack from the front: posts, boards, trays, pots, lamps, canopy lines, figures. */
export function paintFront(pen: Pen, scene: Scene, look: RackLook, sprites: PotSprites): void {
  const shelves = scene.things.filter((t): t is ShelfThing => t.kind === 'shelf');
  paintFloor(pen, shelves);
  for (const thing of shelves) paintBay(pen, thing, look);
  for (const thing of scene.things) {
    if (thing.kind === 'tray') paintTrayBack(pen, thing);
  }
  paintPots(pen, scene, look, sprites);
  for (const thing of scene.things) {
    if (thing.kind === 'tray') paintTrayFront(pen, thing, look);
  }
  paintLampsFront(pen, scene);
  for (const thing of shelves) paintBoardFront(pen, thing);
}

function paintFloor(pen: Pen, shelves: readonly ShelfThing[]): void {
  const first = shelves[0];
  if (!first) return;
  const { ctx, colours, view } = pen;
  const width = Math.max(...shelves.map((s) => s.shelf.widthMm));
  const top = Math.max(...shelves.map((s) => s.bay.top));
  for (const left of [-POST_MM, width]) {
    paintBox(
      pen,
      { left, right: left + POST_MM, bottom: 0, top },
      colours.shelf,
      colours.shelfLine,
    );
  }
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

function paintBay(pen: Pen, thing: ShelfThing, look: RackLook): void {
  const { colours, ctx, view } = pen;
  const { shelf } = thing;
  const r = paintBox(pen, thing.bay, colours.raised, colours.line);
  const field = look.field?.get(shelf.id);
  const { plantingMm, harvestMm } = shelf.canopy;
  if (field) paintFieldBand(pen, shelf, field, (plantingMm + harvestMm) / 2);
  const roomy = r.h > 70;
  const lines = [
    { mm: plantingMm, text: 'canopy at planting' },
    { mm: harvestMm, text: 'canopy at harvest' },
  ];
  for (const line of lines) {
    const at = toPixel(view, { across: shelf.widthMm, up: shelf.heightMm + line.mm });
    ctx.strokeStyle = colours.good;
    ctx.lineWidth = 1;
    ctx.setLineDash([2, 4]);
    ctx.beginPath();
    ctx.moveTo(r.x, at.y);
    ctx.lineTo(at.x, at.y);
    ctx.stroke();
    ctx.setLineDash([]);
    // Two lines close together would print their words over each other.
    const apart = Math.abs(harvestMm - plantingMm) * view.scale > 14;
    if (roomy && r.w > 260 && (apart || line.mm === harvestMm)) {
      paintText(
        pen,
        line.text,
        { x: at.x - 6, y: at.y - 7 },
        {
          size: 10,
          align: 'right',
          colour: colours.good,
          halo: colours.raised,
        },
      );
    }
  }
  const post = POST_MM * view.scale;
  const gauge = r.x + r.w + post + 20;
  paintDimension(pen, { x: gauge, y: r.y }, { x: gauge, y: r.y + r.h }, shelf.clearanceMm, {
    colour: colours.inkSoft,
    ground: colours.ground,
  });
}

function paintBoardFront(pen: Pen, thing: ShelfThing): void {
  const { colours, view } = pen;
  const { shelf } = thing;
  const r = paintBox(pen, thing.box, colours.shelf, colours.shelfLine);
  const post = POST_MM * view.scale;
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
    `at ${formatLength(shelf.heightMm, pen.lengths)}`,
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
  ctx.globalAlpha = 0.62;
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
  const code = `${thing.shelf.number}${thing.tray.letter}`;
  const size = Math.min(13, Math.max(r.h - 4, BOARD_MM * pen.view.scale - 3));
  if (size < 8) return;
  setFont(pen, size, 600);
  if (ctx.measureText(code).width + 6 > r.w) return;
  const inside = r.h - 4 >= 9;
  paintText(
    pen,
    code,
    { x: r.x + r.w / 2, y: inside ? r.y + r.h / 2 + 0.5 : r.y + r.h + 8 },
    {
      size: inside ? Math.min(13, r.h - 3) : size,
      weight: 600,
      align: 'center',
      ...(inside ? { halo: colours.tray } : {}),
    },
  );
}
