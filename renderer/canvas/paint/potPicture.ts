import type { PotPaint, RackLook } from '../look';
import type { Scene } from '../plane/scene';
import type { PotOnPlane } from '../plane/things';
import { toPixel } from '../plane/viewport';
import type { PixelSize, Viewport } from '../plane/viewport';
import { blankBitmap, type Bitmap } from './bitmap';
import type { Pen } from './pen';
import { paintPots } from './pots';
import { PotSprites } from './potSprite';

/** What a painted picture of pots depends on, besides the colours. */
interface Painted {
  scene: Scene;
  view: Viewport;
  size: PixelSize;
  field: RackLook['field'];
  potPaint: RackLook['potPaint'];
}

/** With more pots than this changed it is quicker to paint all. */
export const FEW_POTS = 24;
/** Room around a pot's own box for its line, px. */
const MARGIN_PX = 2;

/**
 * All pots of one picture. While the rack stands still on the screen they are kept as one bitmap, in
 * which only those pots are painted again that look different: a value typed into the records costs
 * one pot, not thousands.
 */
export class PotPicture {
  private readonly sprites: PotSprites;
  private last: Painted | null = null;
  private kept: Bitmap | null = null;

  constructor(private readonly pixelRatio: number) {
    this.sprites = new PotSprites(pixelRatio);
  }

  paint(pen: Pen, scene: Scene, look: RackLook): void {
    const { view, size } = pen;
    if (pen.seen) {
      // A part of a picture that moves: nothing to be kept.
      this.last = null;
      this.kept = null;
      paintPots(pen, scene, look, this.sprites, scene.pots);
      return;
    }
    const { last } = this;
    this.last = { scene, view, size, field: look.field, potPaint: look.potPaint };
    if (!last || !standsStill(last, this.last)) {
      // On the move, a bitmap would be good for one frame only.
      this.kept = null;
      paintPots(pen, scene, look, this.sprites, scene.pots);
      return;
    }
    const known = this.kept;
    const bitmap = known ?? blankBitmap(size, this.pixelRatio);
    if (!bitmap) {
      paintPots(pen, scene, look, this.sprites, scene.pots);
      return;
    }
    this.kept = bitmap;
    const own = { ...pen, ctx: bitmap.ctx };
    const changed = known ? changedPots(scene.pots, last.potPaint, look.potPaint) : scene.pots;
    if (known && changed.length <= FEW_POTS) this.mend(own, scene, look, changed);
    else {
      own.ctx.clearRect(0, 0, size.width, size.height);
      paintPots(own, scene, look, this.sprites, scene.pots);
    }
    const { width, height } = bitmap.canvas;
    pen.ctx.drawImage(bitmap.canvas, 0, 0, width / this.pixelRatio, height / this.pixelRatio);
  }

  /** Paints a few pots again, with whatever stands before or behind them. */
  private mend(pen: Pen, scene: Scene, look: RackLook, changed: readonly PotOnPlane[]): void {
    if (changed.length === 0) return;
    const { ctx, size } = pen;
    const boxes = changed.map((p) => boxOf(pen.view, p, this.pixelRatio));
    ctx.save();
    clipToPots(ctx, pen.view, changed, this.pixelRatio);
    ctx.clearRect(0, 0, size.width, size.height);
    const touched = scene.pots.filter((p) => {
      const own = boxOf(pen.view, p, this.pixelRatio);
      return boxes.some(
        (box) =>
          own.left < box.right &&
          own.right > box.left &&
          own.top < box.bottom &&
          own.bottom > box.top,
      );
    });
    paintPots(pen, scene, look, this.sprites, touched);
    ctx.restore();
  }
}

/** The boxes of pots on the screen, as a path to clip by: on whole pixels, so that no seam shows. */
export function clipToPots(
  ctx: CanvasRenderingContext2D,
  view: Viewport,
  pots: readonly PotOnPlane[],
  pixelRatio: number,
): void {
  ctx.beginPath();
  for (const pot of pots) {
    const { left, top, right, bottom } = boxOf(view, pot, pixelRatio);
    ctx.rect(left, top, right - left, bottom - top);
  }
  ctx.clip();
}

function boxOf(view: Viewport, { centre, halfWidth, halfHeight }: PotOnPlane, ratio: number) {
  const { x, y } = toPixel(view, centre);
  const [w, h] = [halfWidth * view.scale + MARGIN_PX, halfHeight * view.scale + MARGIN_PX];
  return {
    left: Math.floor((x - w) * ratio) / ratio,
    top: Math.floor((y - h) * ratio) / ratio,
    right: Math.ceil((x + w) * ratio) / ratio,
    bottom: Math.ceil((y + h) * ratio) / ratio,
  };
}

function standsStill(before: Painted, now: Painted): boolean {
  return (
    before.scene === now.scene &&
    before.field === now.field &&
    before.view.scale === now.view.scale &&
    before.view.originX === now.view.originX &&
    before.view.originY === now.view.originY &&
    before.size.width === now.size.width &&
    before.size.height === now.size.height
  );
}

/** Pots whose paint is another one. */
export function changedPots(
  pots: readonly PotOnPlane[],
  before: ReadonlyMap<string, PotPaint> | undefined,
  now: ReadonlyMap<string, PotPaint> | undefined,
): readonly PotOnPlane[] {
  if (before === now) return [];
  return pots.filter(({ pot }) => !samePaint(before?.get(pot.id), now?.get(pot.id)));
}

function samePaint(a: PotPaint | undefined, b: PotPaint | undefined): boolean {
  if (a === b) return true;
  if (!a || !b) return false;
  return (
    a.fill === b.fill &&
    a.ink === b.ink &&
    a.pattern === b.pattern &&
    a.letter === b.letter &&
    a.dim === b.dim &&
    a.mark === b.mark
  );
}
