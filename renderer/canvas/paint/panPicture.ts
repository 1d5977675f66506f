import type { PotPaint, RackLook } from '../look';
import { grown, type Box } from '../plane/box';
import type { Scene } from '../plane/scene';
import type { PotOnPlane } from '../plane/things';
import type { PixelSize, Viewport } from '../plane/viewport';
import { toPlane } from '../plane/viewport';
import { blankBitmap, type Bitmap } from './bitmap';
import type { Pen, PixelRect } from './pen';
import { changedPots, clipToPots, FEW_POTS } from './potPicture';
import { figureOf } from './potSprite';

/** What a picture depends on, besides the theme. */
interface Painted {
  scene: Scene;
  look: RackLook;
  view: Viewport;
  size: PixelSize;
  lengths: Pen['lengths'];
}

/** Less than this is rounding: a whole pixel of the screen is meant. */
const ROUNDING_PX = 1e-3;
/** Lines and shadows reach out of what they belong to, px. */
const REACH_PX = 6;

/**
 * The rack without its rulers, kept as a bitmap. While it is only panned, the bitmap is shifted and the
 * strips that come into view are painted: thousands of pots move as smoothly as none.
 */
export class PanPicture {
  private shown: Bitmap | null = null;
  private spare: Bitmap | null = null;
  private last: Painted | null = null;
  /** It was shifted since it was painted whole. */
  private moved = false;

  constructor(private readonly pixelRatio: number) {}

  /** The next picture is painted whole. */
  forget(): void {
    this.last = null;
  }

  /** `paintAll` paints everything with a pen, or what its `seen` box shows. True: it was shifted, and not yet painted whole since. */
  paint(pen: Pen, scene: Scene, look: RackLook, paintAll: (pen: Pen) => void): boolean {
    const { size, view, lengths } = pen;
    const now: Painted = { scene, look, view, size, lengths };
    const before = this.last;
    const shift = before && shiftBetween(before, now, this.pixelRatio);
    const resized = before?.size.width !== size.width || before.size.height !== size.height;
    this.last = now;
    if (resized || !this.shown) {
      this.shown = blankBitmap(size, this.pixelRatio);
      this.spare = null;
    }
    if (!this.shown) {
      paintAll(pen);
      return false;
    }
    const shifted = shift !== null && this.shift(pen, shift, paintAll);
    if (!shifted) {
      const own = { ...pen, ctx: this.shown.ctx };
      own.ctx.save();
      // A value typed into the records changes one pot: the rest of the picture stays.
      const pots = before && !resized ? onlyPots(before, now) : null;
      if (pots) clipToPots(own.ctx, view, pots, this.pixelRatio);
      else this.moved = false;
      paintAll(own);
      own.ctx.restore();
    } else this.moved = true;
    const { canvas } = this.shown;
    const ratio = this.pixelRatio;
    pen.ctx.drawImage(canvas, 0, 0, canvas.width / ratio, canvas.height / ratio);
    return this.moved;
  }

  private shift(pen: Pen, by: { x: number; y: number }, paintAll: (pen: Pen) => void): boolean {
    this.spare ??= blankBitmap(pen.size, this.pixelRatio);
    const [from, to] = [this.shown, this.spare];
    if (!from || !to) return false;
    to.ctx.clearRect(0, 0, pen.size.width, pen.size.height);
    const [w, h] = [from.canvas.width / this.pixelRatio, from.canvas.height / this.pixelRatio];
    to.ctx.drawImage(from.canvas, by.x, by.y, w, h);
    for (const strip of stripsBeside(pen.size, by)) {
      to.ctx.save();
      to.ctx.beginPath();
      to.ctx.rect(strip.x, strip.y, strip.w, strip.h);
      to.ctx.clip();
      paintAll({ ...pen, ctx: to.ctx, seen: planeBox(pen.view, strip), labels: [] });
      to.ctx.restore();
    }
    [this.shown, this.spare] = [to, from];
    return true;
  }
}

/** The few pots by whose paint alone two pictures differ; null where there is more to paint. */
export function onlyPots(before: Painted, now: Painted): readonly PotOnPlane[] | null {
  const { scene, view, lengths } = now;
  const still =
    before.scene === scene &&
    before.lengths === lengths &&
    before.view.scale === view.scale &&
    before.view.originX === view.originX &&
    before.view.originY === view.originY;
  if (!still) return null;
  const parts = new Set([...Object.keys(before.look), ...Object.keys(now.look)]);
  parts.delete('potPaint');
  for (const part of parts) {
    if (Reflect.get(before.look, part) !== Reflect.get(now.look, part)) return null;
  }
  const [was, is] = [before.look.potPaint, now.look.potPaint];
  const changed = changedPots(scene.pots, was, is);
  if (changed.length === 0 || changed.length > FEW_POTS) return null;
  // What is written over a pot may reach out of it.
  const isWritten = (paint: PotPaint | undefined) => paint && figureOf(paint) !== undefined;
  const written = scene.pots.some(
    ({ pot }) =>
      was?.get(pot.id) !== is?.get(pot.id) &&
      (isWritten(was?.get(pot.id)) || isWritten(is?.get(pot.id))),
  );
  return written ? null : changed;
}

/** By how many pixels a picture has moved, in whole pixels of the screen; null where it is another one. */
export function shiftBetween(
  before: Painted,
  now: Painted,
  pixelRatio: number,
): { x: number; y: number } | null {
  const same =
    before.scene === now.scene &&
    before.look === now.look &&
    before.lengths === now.lengths &&
    before.view.scale === now.view.scale &&
    before.size.width === now.size.width &&
    before.size.height === now.size.height;
  if (!same) return null;
  const x = (now.view.originX - before.view.originX) * pixelRatio;
  const y = (now.view.originY - before.view.originY) * pixelRatio;
  const [wholeX, wholeY] = [Math.round(x), Math.round(y)];
  const whole = Math.abs(x - wholeX) < ROUNDING_PX && Math.abs(y - wholeY) < ROUNDING_PX;
  if (!whole || (wholeX === 0 && wholeY === 0)) return null;
  const far =
    Math.abs(wholeX) >= now.size.width * pixelRatio ||
    Math.abs(wholeY) >= now.size.height * pixelRatio;
  return far ? null : { x: wholeX / pixelRatio, y: wholeY / pixelRatio };
}

/** What a shifted picture leaves bare: a strip at a side, and one above or below. */
export function stripsBeside(
  { width, height }: PixelSize,
  { x, y }: { x: number; y: number },
): PixelRect[] {
  const aside = { x: x > 0 ? 0 : width + x, y: 0, w: Math.abs(x), h: height };
  const along = { x: 0, y: y > 0 ? 0 : height + y, w: width, h: Math.abs(y) };
  return [...(x === 0 ? [] : [aside]), ...(y === 0 ? [] : [along])];
}

function planeBox(view: Viewport, { x, y, w, h }: PixelRect): Box {
  const a = toPlane(view, { x, y: y + h });
  const b = toPlane(view, { x: x + w, y });
  const box = { left: a.across, right: b.across, bottom: a.up, top: b.up };
  return grown(box, REACH_PX / view.scale);
}
