import type { Scene } from '../plane/scene';
import type { LampThing } from '../plane/things';
import { isSeen, pixelRect, tracePolygon } from './pen';
import type { Pen, PixelRect } from './pen';
import { toPixel } from '../plane/viewport';

/**
 * How lamps are shown from above: solid where they are drawn, as an outline where the light under
 * them is to be read, faint where they are only to be known of.
 */
export type LampPresence = 'solid' | 'outline' | 'faint';

/** A tipped lamp's arrow reaches out of it, mm. */
const ARROW_MM = 100;

/** Lamps from above: see-through, so that the pots under them stay visible. */
export function paintLampsAbove(pen: Pen, scene: Scene, presence: LampPresence): void {
  const quiet = presence === 'faint';
  const { ctx, colours } = pen;
  for (const thing of scene.things) {
    if (thing.kind !== 'lamp' || !isSeen(pen, thing.box, ARROW_MM)) continue;
    tracePolygon(pen, thing.corners);
    if (presence === 'solid') {
      // A lamp that is off is a dark body.
      ctx.globalAlpha = thing.glow > 0 ? 0.15 + 0.65 * thing.glow : 0.35;
      ctx.fillStyle = thing.glow > 0 ? colours.lamp : colours.shelfLine;
      ctx.fill();
      ctx.globalAlpha = 1;
    }
    ctx.strokeStyle = colours.lampLine;
    ctx.lineWidth = 1.2;
    if (quiet) ctx.setLineDash([5, 4]);
    ctx.globalAlpha = quiet ? 0.45 : 1;
    ctx.stroke();
    ctx.globalAlpha = 1;
    ctx.setLineDash([]);
    if (!quiet) paintTilt(pen, thing);
  }
}

/** A tipped lamp shows by an arrow to which side it faces. */
function paintTilt(pen: Pen, thing: LampThing): void {
  const { tiltDeg, rotationDeg, xMm, yMm } = thing.lamp;
  const { origin } = thing;
  if (tiltDeg === 0) return;
  const { ctx, view, colours } = pen;
  const at = toPixel(view, { across: origin.across + xMm, up: origin.up + yMm });
  // Tipping about the length turns the face towards the lamp's own left or right.
  const turn = ((rotationDeg + (tiltDeg > 0 ? -90 : 90)) * Math.PI) / 180;
  const reach = 22;
  const tip = { x: at.x + Math.cos(turn) * reach, y: at.y - Math.sin(turn) * reach };
  ctx.strokeStyle = colours.lampLine;
  ctx.lineWidth = 1.5;
  ctx.beginPath();
  ctx.moveTo(at.x, at.y);
  ctx.lineTo(tip.x, tip.y);
  for (const side of [-0.5, 0.5]) {
    ctx.moveTo(tip.x, tip.y);
    ctx.lineTo(tip.x - Math.cos(turn + side) * 7, tip.y + Math.sin(turn + side) * 7);
  }
  ctx.stroke();
}

/** How far below a lamp at full output its glow is drawn, mm: for the eye only. */
const GLOW_MM = 150;

/** The emitting face with its glow, as bright as the lamp is; dark where it is off. */
function paintFace(pen: Pen, { glow, shelf }: LampThing, face: PixelRect): void {
  const { ctx, colours, view } = pen;
  const { x, y, w, h } = face;
  ctx.fillStyle = glow > 0 ? colours.lamp : colours.shelfLine;
  ctx.globalAlpha = glow > 0 ? 0.25 + 0.75 * glow : 1;
  ctx.fillRect(x, y, w, h);
  const reach = GLOW_MM * glow * view.scale;
  if (reach > 2) {
    const fading = ctx.createLinearGradient(0, y + h, 0, y + h + reach);
    fading.addColorStop(0, colours.lamp);
    // Fully transparent in its own hue: plain `transparent` is black, and fades through grey.
    fading.addColorStop(1, `${colours.lamp}00`);
    ctx.fillStyle = fading;
    // Lamps of a shelf stand behind each other: together they are as bright as one row of them.
    ctx.globalAlpha = (0.5 * glow) / Math.sqrt(shelf.lamps.length);
    ctx.fillRect(x, y + h, w, reach);
  }
  ctx.globalAlpha = 1;
}

/** Lamps from the front, with the hangers that hold them. */
export function paintLampsFront(pen: Pen, scene: Scene): void {
  const { ctx, colours, view } = pen;
  for (const thing of scene.things) {
    if (thing.kind !== 'lamp' || !isSeen(pen, thing.box, thing.shelf.clearanceMm)) continue;
    const r = pixelRect(view, thing.box);
    const under = toPixel(view, {
      across: 0,
      up: thing.shelf.heightMm + thing.shelf.clearanceMm,
    }).y;
    ctx.strokeStyle = colours.lineStrong;
    ctx.lineWidth = 1;
    if (under < r.y) {
      ctx.beginPath();
      for (const share of [0.15, 0.85]) {
        ctx.moveTo(r.x + r.w * share, under);
        ctx.lineTo(r.x + r.w * share, r.y);
      }
      ctx.stroke();
    }
    const h = Math.max(4, r.h);
    const y = r.y + r.h - h;
    ctx.fillStyle = colours.shelf;
    ctx.strokeStyle = colours.lampLine;
    ctx.beginPath();
    ctx.roundRect(r.x, y, r.w, h, 2);
    ctx.fill();
    ctx.stroke();
    paintFace(pen, thing, {
      x: r.x + 1,
      y: y + h - Math.max(2, h * 0.4),
      w: r.w - 2,
      h: Math.max(2, h * 0.4),
    });
  }
}
