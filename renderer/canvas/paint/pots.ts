import { letterOf } from '../../engine/geometry';
import type { PotPaint, RackLook } from '../look';
import type { Box } from '../plane/box';
import type { PlacedPot, Scene } from '../plane/scene';
import { toPixel, visibleBox } from '../plane/viewport';
import type { Pen } from './pen';
import { paintText } from './pen';
import { paintPot } from './potSprite';
import type { PotFace, PotSprites } from './potSprite';

/** Below this width a pot is a plain square, below the next it carries no code. */
const SQUARE_PX = 7;
const SHORT_CODE_PX = 25;
const FULL_CODE_PX = 58;
const LARGEST_SPRITE_PX = 120;

function inView(p: PlacedPot, seen: Box): boolean {
  return (
    p.centre.across + p.halfWidth > seen.left &&
    p.centre.across - p.halfWidth < seen.right &&
    p.centre.up + p.halfHeight > seen.bottom &&
    p.centre.up - p.halfHeight < seen.top
  );
}

function bare(pen: Pen, guard: boolean, overField: boolean): PotPaint {
  const { colours } = pen;
  return {
    fill: overField ? 'rgb(255 255 255 / 8%)' : guard ? colours.guard : colours.pot,
    ink: colours.ink,
  };
}

/** All pots of the scene in one go: culled to the view, detail by size. */
export function paintPots(pen: Pen, scene: Scene, look: RackLook, sprites: PotSprites): void {
  const { ctx, view, colours } = pen;
  const seen = visibleBox(view, pen.size);
  const upright = scene.view === 'front';
  for (const p of scene.pots) {
    if (!inView(p, seen)) continue;
    const overField = !upright && look.field?.has(p.pot.shelfId) === true;
    const given = look.potPaint?.get(p.pot.id);
    const paint = given ?? bare(pen, p.pot.guard, overField);
    const at = toPixel(view, p.centre);
    const w = p.halfWidth * 2 * view.scale;
    const h = p.halfHeight * 2 * view.scale;
    if (w < SQUARE_PX) {
      ctx.globalAlpha = paint.dim ? 0.35 : 1;
      ctx.fillStyle = overField && !given ? colours.ink : paint.fill;
      const inset = w > 3 ? 0.5 : 0;
      if (overField && !given) ctx.fillRect(at.x - 1, at.y - 1, 2, 2);
      else ctx.fillRect(at.x - w / 2 + inset, at.y - h / 2, w - 2 * inset, h);
      ctx.globalAlpha = 1;
      continue;
    }
    const face: PotFace = {
      paint,
      line: overField && !given ? colours.ink : colours.potLine,
      guard: p.pot.guard,
      shape: upright ? 'upright' : 'circle',
      font: colours.font,
    };
    if (Math.max(w, h) <= LARGEST_SPRITE_PX) {
      const sw = Math.round(w);
      const sh = Math.round(h);
      const sprite = sprites.get(face, sw, sh);
      ctx.drawImage(
        sprite,
        Math.round(at.x - sw / 2) - 1,
        Math.round(at.y - sh / 2) - 1,
        sw + 2,
        sh + 2,
      );
    } else {
      ctx.save();
      ctx.translate(at.x, at.y);
      paintPot(ctx, face, w, h);
      ctx.restore();
    }
    if (!upright) paintWords(pen, p, paint, at.x, at.y, w, overField && !given);
  }
}

function paintWords(
  pen: Pen,
  p: PlacedPot,
  paint: PotPaint,
  x: number,
  y: number,
  widthPx: number,
  overField: boolean,
): void {
  const below = paint.letter ?? (paint.mark === 'dead' ? ' ' : undefined);
  if (paint.text && widthPx >= SHORT_CODE_PX) {
    const size = Math.min(13, widthPx * 0.3);
    paintText(
      pen,
      paint.text,
      { x, y: below ? y + widthPx * 0.31 : y },
      {
        size,
        align: 'center',
        colour: paint.ink,
        halo: paint.fill,
      },
    );
    if (widthPx < FULL_CODE_PX) return;
  }
  if (widthPx < (below ? FULL_CODE_PX * 0.75 : SHORT_CODE_PX)) return;
  const full = widthPx >= FULL_CODE_PX;
  const code = full ? p.pot.code : `${letterOf(p.pot.row)}${p.pot.column}`;
  const size = full ? Math.min(14, widthPx * 0.19) : Math.min(12, widthPx * 0.38);
  const at = { x, y: below || paint.text ? y - widthPx * 0.32 : y };
  paintText(pen, code, at, {
    size,
    align: 'center',
    colour: overField ? pen.colours.ink : paint.ink,
    ...(overField ? { halo: pen.colours.raised } : {}),
    ...(paint.pattern && paint.pattern !== 'plain' ? { halo: paint.fill } : {}),
  });
}
