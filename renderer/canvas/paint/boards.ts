import { baysOf } from '../../engine/geometry';
import type { Scene } from '../plane/scene';
import type { BoardThing, ShelfThing } from '../plane/things';
import { fromAbove } from '../plane/things';
import { isNarrow, toPixel } from '../plane/viewport';
import type { Pen } from './pen';
import { paintBox, paintText, pixelRect } from './pen';

/** Height of a bay's name within its shelf's clearance, from the front. */
const FRONT_NAME_AT = 0.7;

/** Boards that part shelves, over what stands under them: dark, with a light core. */
export function paintBoards(pen: Pen, scene: Scene): void {
  for (const thing of scene.things) {
    if (thing.kind === 'board') paintOne(pen, thing);
  }
  if (scene.view === 'front') paintLengthwiseFront(pen, scene);
  for (const thing of scene.things) {
    if (thing.kind === 'shelf') paintBayNames(pen, scene, thing);
  }
}

function paintOne(pen: Pen, { box }: BoardThing): void {
  const { colours, ctx } = pen;
  const r = pixelRect(pen.view, box);
  // A board thinner than the eye can catch is drawn three pixels wide.
  const [w, h] = [Math.max(3, r.w), Math.max(3, r.h)];
  ctx.fillStyle = colours.ink;
  ctx.fillRect(r.x + (r.w - w) / 2, r.y + (r.h - h) / 2, w, h);
  if (w < 5 || h < 5) return;
  ctx.fillStyle = colours.raised;
  ctx.fillRect(r.x + (r.w - w) / 2 + 1.5, r.y + (r.h - h) / 2 + 1.5, w - 3, h - 3);
}

/** From the front a lengthwise board stands behind the pots of the front bay: its outline alone. */
function paintLengthwiseFront(pen: Pen, scene: Scene): void {
  for (const thing of scene.things) {
    if (thing.kind !== 'shelf') continue;
    for (const board of thing.shelf.boards ?? []) {
      if (board.direction !== 'lengthwise') continue;
      const bottom = thing.shelf.heightMm + board.downToMm;
      const box = { ...thing.bay, bottom };
      pen.ctx.setLineDash([8, 4]);
      paintBox(pen, box, null, pen.colours.ink, 1.5);
      pen.ctx.setLineDash([]);
    }
  }
}

/** `left`, `front right`: where a shelf has more bays than one. */
function paintBayNames(pen: Pen, scene: Scene, { shelf, origin, bay: room }: ShelfThing): void {
  const bays = baysOf(shelf);
  if (bays.length < 2 || isNarrow(pen.size)) return;
  const front = scene.view === 'front';
  const shown = front ? bays.filter(({ rect }) => rect.yMm === 0) : bays;
  for (const { name, rect } of shown) {
    const words = name.replace(/^\d+ /, '').replace(front ? /^front ?/ : /$^/, '');
    if (words === '' || rect.widthMm * pen.view.scale < 40) continue;
    const at = toPixel(pen.view, {
      across: origin.across + rect.xMm + rect.widthMm / 2,
      // From the front under the lamps, which hang at the top.
      up: fromAbove(scene.view)
        ? origin.up + rect.yMm + rect.depthMm
        : room.bottom + FRONT_NAME_AT * (room.top - room.bottom),
    });
    const style = {
      size: 11,
      weight: 600 as const,
      align: 'center' as const,
      colour: pen.colours.ink,
      halo: pen.colours.raised,
    };
    // From above outside the shelf: within it are the rings and pots of its trays.
    paintText(pen, words, { x: at.x, y: front ? at.y + 9 : at.y - 8 }, style);
  }
}
