import type { PotPaint } from '../look';
import { paintPattern } from './patterns';

/** What a pot's picture depends on, besides its size. */
export interface PotFace {
  paint: PotPaint;
  line: string;
  /** Guard pots carry a lozenge. */
  guard: boolean;
  shape: 'circle' | 'upright';
  font: string;
}

/** One or two signs are the pot's letter; anything longer is a figure and is written on top. */
const LONGEST_SIGN = 2;

/** The treatment's letter, painted with the pot. */
export function signOf(paint: PotPaint): string | undefined {
  return paint.letter !== undefined && paint.letter.length <= LONGEST_SIGN
    ? paint.letter
    : undefined;
}

/** A figure such as a light level or a weight. */
export function figureOf(paint: PotPaint): string | undefined {
  return paint.text ?? (signOf(paint) === undefined ? paint.letter : undefined);
}

const MOST_SPRITES = 400;

/**
 * Pictures of pots, painted once for each look and size and then copied: patterns and letters of
 * thousands of pots cost no more than plain ones.
 */
export class PotSprites {
  private readonly kept = new Map<string, HTMLCanvasElement>();

  constructor(private readonly pixelRatio: number) {}

  /** The picture, `width × height` CSS pixels with 1 pixel of margin on each side. */
  get(face: PotFace, width: number, height: number): HTMLCanvasElement {
    const { paint } = face;
    const key = [
      paint.fill,
      paint.ink,
      paint.pattern ?? '',
      signOf(paint) ?? '',
      paint.mark ?? '',
      paint.dim ? 'd' : '',
      face.line,
      face.guard ? 'g' : '',
      face.shape,
      width,
      height,
    ].join('|');
    const known = this.kept.get(key);
    if (known) return known;
    if (this.kept.size >= MOST_SPRITES) this.kept.clear();
    const made = document.createElement('canvas');
    made.width = Math.ceil((width + 2) * this.pixelRatio);
    made.height = Math.ceil((height + 2) * this.pixelRatio);
    const ctx = made.getContext('2d');
    if (ctx) {
      ctx.scale(this.pixelRatio, this.pixelRatio);
      ctx.translate(1 + width / 2, 1 + height / 2);
      paintPot(ctx, face, width, height);
    }
    this.kept.set(key, made);
    return made;
  }
}

function tracePot(
  ctx: CanvasRenderingContext2D,
  face: PotFace,
  w: number,
  h: number,
  inset: number,
) {
  ctx.beginPath();
  if (face.shape === 'circle') {
    ctx.arc(0, 0, Math.max(0.5, w / 2 - inset), 0, Math.PI * 2);
    return;
  }
  // A pot from the front tapers towards its foot.
  const top = w / 2 - inset;
  const foot = w * 0.38 - inset;
  ctx.moveTo(-top, -h / 2 + inset);
  ctx.lineTo(top, -h / 2 + inset);
  ctx.lineTo(foot, h / 2 - inset);
  ctx.lineTo(-foot, h / 2 - inset);
  ctx.closePath();
}

/** Paints one pot about 0,0: fill, pattern, outline, mark, letter. */
export function paintPot(
  ctx: CanvasRenderingContext2D,
  face: PotFace,
  width: number,
  height: number,
): void {
  const { paint } = face;
  const radius = Math.min(width, height) / 2;
  ctx.globalAlpha = paint.dim ? 0.35 : 1;
  const missing = paint.mark === 'missing';
  tracePot(ctx, face, width, height, 0.5);
  if (!missing) {
    ctx.fillStyle = paint.fill;
    ctx.fill();
    if (paint.pattern && radius >= 5) {
      ctx.save();
      ctx.clip();
      ctx.globalAlpha *= 0.55;
      paintPattern(ctx, paint.pattern, paint.ink, radius);
      ctx.restore();
    }
  }
  ctx.strokeStyle = face.line;
  ctx.lineWidth = 1;
  if (missing) ctx.setLineDash([3, 2]);
  tracePot(ctx, face, width, height, 0.5);
  ctx.stroke();
  ctx.setLineDash([]);
  if (face.guard && radius >= 5) {
    // A lozenge: rings are a treatment's pattern.
    const across = radius * (face.shape === 'circle' ? 0.92 : 0.6);
    ctx.beginPath();
    ctx.moveTo(0, -across);
    ctx.lineTo(across, 0);
    ctx.lineTo(0, across);
    ctx.lineTo(-across, 0);
    ctx.closePath();
    ctx.stroke();
  }
  // From the front rows hide each other, and letters would stand in one another's way.
  const sign = face.shape === 'circle' ? signOf(paint) : undefined;
  if (sign && radius >= 5.5 && !missing) {
    const long = sign.length > 1;
    const size = Math.max(8, Math.min(radius * (long ? 0.8 : 1), 26));
    ctx.font = `700 ${size}px ${face.font}`;
    if (paint.pattern && paint.pattern !== 'plain') {
      const half = ctx.measureText(sign).width / 2 + 2;
      ctx.fillStyle = paint.fill;
      ctx.beginPath();
      ctx.roundRect(-half, -size * 0.56, half * 2, size * 1.12, 2);
      ctx.fill();
    }
    ctx.fillStyle = paint.ink;
    ctx.textAlign = 'center';
    ctx.textBaseline = 'middle';
    ctx.fillText(sign, 0, size * 0.06);
  }
  if (paint.mark === 'dead') crossOut(ctx, '#1b1b1b', radius);
  if (paint.mark === 'flagged') flag(ctx, radius);
  ctx.globalAlpha = 1;
}

function crossOut(ctx: CanvasRenderingContext2D, line: string, radius: number) {
  const r = radius * 0.72;
  // Dark on light and light on dark: seen on every treatment colour.
  for (const [colour, width] of [
    ['#ffffff', 0.3],
    [line, 0.13],
  ] as const) {
    ctx.strokeStyle = colour;
    ctx.lineWidth = Math.max(1.2, radius * width);
    ctx.beginPath();
    ctx.moveTo(-r, -r);
    ctx.lineTo(r, r);
    ctx.moveTo(-r, r);
    ctx.lineTo(r, -r);
    ctx.stroke();
  }
}

function flag(ctx: CanvasRenderingContext2D, radius: number) {
  const r = Math.max(3, radius * 0.3);
  ctx.fillStyle = '#1b1b1b';
  ctx.strokeStyle = '#ffffff';
  ctx.lineWidth = 1;
  ctx.beginPath();
  ctx.moveTo(radius * 0.7, -radius);
  ctx.lineTo(radius * 0.7 + r, -radius + r * 1.7);
  ctx.lineTo(radius * 0.7 - r, -radius + r * 1.7);
  ctx.closePath();
  ctx.fill();
  ctx.stroke();
}
