import { boxesMeet, grown, shifted, type Box, type Point } from '../plane/box';
import type { Pixel, PixelSize, Viewport } from '../plane/viewport';
import { toPixel, visibleBox } from '../plane/viewport';
import type { CanvasColours } from './colours';
import type { UnitSystem } from '../../words';

/** What every painter needs: where to draw, how the plane lies on the screen, with which colours. */
export interface Pen {
  ctx: CanvasRenderingContext2D;
  view: Viewport;
  size: PixelSize;
  colours: CanvasColours;
  lengths: UnitSystem;
  /** Where words stand, told by whoever paints them: signs keep off them. */
  labels?: PixelRect[] | undefined;
  /** The part of the plane that has to be painted, where it is not all that is shown. */
  seen?: Box | undefined;
}

/** What of the plane has to be painted. */
export const seenBy = ({ seen, view, size }: Pen): Box => seen ?? visibleBox(view, size);

/** Whether a box, with what reaches out of it, has to be painted. */
export function isSeen(pen: Pen, box: Box, reachMm = 0): boolean {
  return boxesMeet(grown(box, reachMm + 8 / pen.view.scale), seenBy(pen));
}

/** The same pen in a shelf's own axes: what is painted at 0,0 lands on the shelf's front left corner. */
export function penAt(pen: Pen, origin: Point): Pen {
  const { x, y } = toPixel(pen.view, origin);
  const seen = pen.seen && shifted(pen.seen, -origin.across, -origin.up);
  return { ...pen, view: { ...pen.view, originX: x, originY: y }, seen };
}

export interface PixelRect {
  x: number;
  y: number;
  w: number;
  h: number;
}

export function pixelRect(view: Viewport, box: Box): PixelRect {
  const a = toPixel(view, { across: box.left, up: box.top });
  return {
    x: a.x,
    y: a.y,
    w: (box.right - box.left) * view.scale,
    h: (box.top - box.bottom) * view.scale,
  };
}

/** Fills and outlines a box; either colour may be left out. */
export function paintBox(
  pen: Pen,
  box: Box,
  fill: string | null,
  line: string | null,
  lineWidth = 1,
): PixelRect {
  const { ctx } = pen;
  const r = pixelRect(pen.view, box);
  if (fill) {
    ctx.fillStyle = fill;
    ctx.fillRect(r.x, r.y, r.w, r.h);
  }
  if (line) {
    ctx.strokeStyle = line;
    ctx.lineWidth = lineWidth;
    ctx.strokeRect(r.x, r.y, r.w, r.h);
  }
  return r;
}

export function tracePolygon(pen: Pen, corners: readonly Point[]): void {
  const { ctx, view } = pen;
  ctx.beginPath();
  corners.forEach((corner, i) => {
    const p = toPixel(view, corner);
    if (i === 0) ctx.moveTo(p.x, p.y);
    else ctx.lineTo(p.x, p.y);
  });
  ctx.closePath();
}

export interface TextStyle {
  size?: number;
  weight?: 400 | 600 | 700;
  colour?: string;
  align?: CanvasTextAlign;
  baseline?: CanvasTextBaseline;
  /** Painted around the letters, so that they stay legible on anything. */
  halo?: string;
}

export function setFont(pen: Pen, size: number, weight: number): void {
  pen.ctx.font = `${weight} ${size}px ${pen.colours.font}`;
}

export function paintText(pen: Pen, text: string, at: Pixel, style: TextStyle = {}): void {
  const { ctx, colours } = pen;
  const size = style.size ?? 12;
  setFont(pen, size, style.weight ?? 400);
  if (pen.labels) {
    const w = ctx.measureText(text).width;
    const before = { left: 0, center: 0.5, right: 1, start: 0, end: 1 }[style.align ?? 'left'];
    pen.labels.push({ x: at.x - before * w, y: at.y - size / 2, w, h: size });
  }
  ctx.textAlign = style.align ?? 'left';
  ctx.textBaseline = style.baseline ?? 'middle';
  if (style.halo) {
    ctx.strokeStyle = style.halo;
    ctx.lineWidth = 3;
    ctx.lineJoin = 'round';
    ctx.strokeText(text, at.x, at.y);
  }
  ctx.fillStyle = style.colour ?? colours.ink;
  ctx.fillText(text, at.x, at.y);
}

/** Text that reads upwards, centred on a point. */
export function paintUprightText(pen: Pen, text: string, at: Pixel, style: TextStyle = {}): void {
  const { ctx } = pen;
  ctx.save();
  ctx.translate(at.x, at.y);
  ctx.rotate(-Math.PI / 2);
  paintText({ ...pen, labels: undefined }, text, { x: 0, y: 0 }, { ...style, align: 'center' });
  const [w, h] = [style.size ?? 12, ctx.measureText(text).width];
  pen.labels?.push({ x: at.x - w / 2, y: at.y - h / 2, w, h });
  ctx.restore();
}

/** A short text on a small plate, centred on a point. Returns the plate. */
export function paintPlate(
  pen: Pen,
  text: string,
  at: Pixel,
  style: { fill: string; ink: string; line?: string; size?: number; weight?: 400 | 600 | 700 },
): PixelRect {
  const { ctx } = pen;
  const size = style.size ?? 11;
  setFont(pen, size, style.weight ?? 600);
  const w = ctx.measureText(text).width + 10;
  const h = size + 6;
  const x = at.x - w / 2;
  const y = at.y - h / 2;
  ctx.beginPath();
  ctx.roundRect(x, y, w, h, 3);
  ctx.fillStyle = style.fill;
  ctx.fill();
  if (style.line) {
    ctx.strokeStyle = style.line;
    ctx.lineWidth = 1;
    ctx.stroke();
  }
  pen.labels?.push({ x, y, w, h });
  paintText(
    { ...pen, labels: undefined },
    text,
    { x: at.x, y: at.y + 0.5 },
    {
      size,
      weight: style.weight ?? 600,
      colour: style.ink,
      align: 'center',
    },
  );
  return { x, y, w, h };
}
