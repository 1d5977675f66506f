import type { PotPaint, RackLook } from '../look';
import type { Box } from '../plane/box';
import type { Scene } from '../plane/scene';
import type { PotOnPlane } from '../plane/things';
import { toPixel } from '../plane/viewport';
import { seenBy, type Pen } from './pen';
import { paintPot } from './potSprite';
import type { PotFace, PotSprites } from './potSprite';

/** Below this width a pot is a plain square. */
const SQUARE_PX = 7;
const LARGEST_SPRITE_PX = 120;

/** Whether any of a pot can be seen. */
export function inView(p: PotOnPlane, seen: Box): boolean {
  return (
    p.centre.across + p.halfWidth > seen.left &&
    p.centre.across - p.halfWidth < seen.right &&
    p.centre.up + p.halfHeight > seen.bottom &&
    p.centre.up - p.halfHeight < seen.top
  );
}

/** A pot that the stage says nothing about. */
export function barePot(pen: Pen, guard: boolean, overField: boolean): PotPaint {
  const { colours } = pen;
  return {
    fill: overField ? 'rgb(255 255 255 / 8%)' : guard ? colours.guard : colours.pot,
    ink: colours.ink,
  };
}

/** Pots of the scene in one go, without words: culled to the view, detail by size. */
export function paintPots(
  pen: Pen,
  scene: Scene,
  look: RackLook,
  sprites: PotSprites,
  pots: readonly PotOnPlane[],
): void {
  const { ctx, view, colours } = pen;
  const seen = seenBy(pen);
  const upright = scene.view === 'front';
  for (const p of pots) {
    if (!inView(p, seen)) continue;
    const overField = !upright && look.field?.has(p.pot.shelfId) === true;
    const given = look.potPaint?.get(p.pot.id);
    const paint = given ?? barePot(pen, p.pot.guard, overField);
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
  }
}
