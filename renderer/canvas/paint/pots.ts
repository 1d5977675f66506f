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
/** A letter takes the middle: its code needs a larger pot, and more so written in full. */
const LETTERED_CODE_PX = 52;
const LETTERED_FULL_CODE_PX = 104;
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
    if (!upright) {
      ctx.globalAlpha = paint.dim ? 0.5 : 1;
      paintWords(pen, p, wordPaint(pen, paint), at.x, at.y, w, overField && !given);
      ctx.globalAlpha = 1;
    }
  }
}

/** A missing pot is not filled, so its words stand on the tray. */
function wordPaint(pen: Pen, paint: PotPaint): PotPaint {
  if (paint.mark !== 'missing') return paint;
  return { fill: pen.colours.tray, ink: pen.colours.ink, mark: 'missing' };
}

/** Code and figure of one pot, as far as there is room: below its letter, else in its middle. */
function paintWords(
  pen: Pen,
  p: PlacedPot,
  paint: PotPaint,
  x: number,
  y: number,
  widthPx: number,
  overField: boolean,
): void {
  if (widthPx < SHORT_CODE_PX || paint.mark === 'dead') return;
  const lettered = paint.letter !== undefined;
  const halo = overField
    ? { halo: pen.colours.raised }
    : paint.pattern && paint.pattern !== 'plain' && !paint.dim
      ? { halo: paint.fill }
      : {};
  const style = {
    align: 'center',
    colour: overField ? pen.colours.ink : paint.ink,
    ...halo,
  } as const;
  const full = widthPx >= (lettered ? LETTERED_FULL_CODE_PX : FULL_CODE_PX);
  const code = full ? p.pot.code : `${letterOf(p.pot.row)}${p.pot.column}`;
  if (paint.text !== undefined) {
    const size = Math.min(14, widthPx * 0.3);
    const below = lettered ? widthPx * 0.31 : 0;
    paintText(pen, paint.text, { x, y: y + below }, { ...style, size, weight: 600 });
    if (widthPx >= FULL_CODE_PX) {
      const small = Math.min(11, widthPx * 0.16);
      paintText(pen, code, { x, y: y - widthPx * 0.31 }, { ...style, size: small });
    }
    return;
  }
  if (lettered) {
    if (widthPx < LETTERED_CODE_PX) return;
    paintText(
      pen,
      code,
      { x, y: y + widthPx * 0.31 },
      { ...style, size: Math.min(12, widthPx * 0.18) },
    );
    return;
  }
  const size = full ? Math.min(14, widthPx * 0.19) : Math.min(12, widthPx * 0.38);
  paintText(pen, code, { x, y }, { ...style, size });
}
