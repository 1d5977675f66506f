import type { Severity } from '../../../shared-types/notice';
import { memo } from '../../derive/memo';
import { parseRef } from '../../document/queries/refs';
import type { RackLook } from '../look';
import type { Scene } from '../plane/scene';
import { outlineOf } from '../plane/scene';
import { fromAbove } from '../plane/things';
import type { Pixel } from '../plane/viewport';
import type { Pen, PixelRect } from './pen';
import { paintText, pixelRect } from './pen';

const SIGNS: Record<Severity, string> = { stop: '!', warn: '!', note: 'i' };
/** Half the width of a sign, px: that of a pot is smaller, so that it keeps off the pot's words. */
const SIGN_PX = 8.5;
const SHARE_OF_POT = 0.2;
/** Things smaller than this carry no sign, only their ring. */
const LEAST_PX = 20;
/** A sign smaller than this is told by its shape alone. */
const LEAST_LETTER_PX = 6;

interface Ringed {
  r: PixelRect;
  severity: Severity;
  round: boolean;
}

/** What a notice is about and can be seen; rings and signs of one picture ask alike. */
const ringedIn = memo(
  (
    view: Pen['view'],
    width: number,
    height: number,
    scene: Scene,
    ringed: RackLook['ringed'],
  ): readonly Ringed[] =>
    [...ringed].flatMap(([ref, severity]) => {
      const box = outlineOf(scene, ref);
      if (!box) return [];
      const r = pixelRect(view, box);
      if (r.x > width || r.y > height || r.x + r.w < 0 || r.y + r.h < 0) return [];
      return [{ r, severity, round: parseRef(ref)?.kind === 'pot' && fromAbove(scene.view) }];
    }),
);

const seenBy = ({ view, size }: Pen, scene: Scene, { ringed }: RackLook): readonly Ringed[] =>
  ringedIn(view, size.width, size.height, scene, ringed);

/** Rings round the things a notice is about: the line tells the severity, colour repeats it. */
export function paintRings(pen: Pen, scene: Scene, look: RackLook): void {
  const { ctx, colours } = pen;
  for (const { r, severity, round } of seenBy(pen, scene, look)) {
    ctx.strokeStyle = colours[severity];
    ctx.lineWidth = severity === 'stop' ? 3 : 2;
    ctx.setLineDash(severity === 'stop' ? [] : severity === 'warn' ? [7, 3] : [2, 3]);
    ctx.beginPath();
    if (round) ctx.arc(r.x + r.w / 2, r.y + r.h / 2, r.w / 2 + 2, 0, Math.PI * 2);
    else ctx.roundRect(r.x - 3, r.y - 3, r.w + 6, r.h + 6, 4);
    ctx.stroke();
    ctx.setLineDash([]);
  }
}

/** Signs on the rings, each at the first of its places that no word and no other sign takes. */
export function paintSigns(pen: Pen, scene: Scene, look: RackLook): void {
  const taken = [...(pen.labels ?? [])];
  for (const { r, severity, round } of seenBy(pen, scene, look)) {
    if (r.w < LEAST_PX) continue;
    const half = round ? Math.min(SIGN_PX, r.w * SHARE_OF_POT) : SIGN_PX;
    const places = round ? placesRound(r) : placesAlong(r);
    const around = ({ x, y }: Pixel) => ({ x: x - half, y: y - half, w: 2 * half, h: 2 * half });
    const [first] = places;
    const at = places.find((place) => !taken.some((rect) => meet(rect, around(place)))) ?? first;
    if (!at) continue;
    taken.push(around(at));
    paintSign(pen, at, severity, half);
  }
}

/** Beside the corner, where a handle may be, px. */
const INSET_PX = 16;

/** By the corners first, the right ones before the left: tags stand left. */
export function placesAlong({ x, y, w, h }: PixelRect): Pixel[] {
  const inset = Math.min(INSET_PX, w / 4);
  const [left, right, below] = [x + inset, x + w - inset, y + h];
  return [
    ...[right, left].flatMap((at) => [y, below].map((up) => ({ x: at, y: up }))),
    ...[x + w, x].map((at) => ({ x: at, y: y + h / 4 })),
    ...[0.7, 0.4].flatMap((share) => [y, below].map((up) => ({ x: x + share * w, y: up }))),
  ];
}

/** Between the pots, at the four corners of one: its words lie inside. */
function placesRound({ x, y, w, h }: PixelRect): Pixel[] {
  const out = (w / 2 + 2) * Math.SQRT1_2;
  const [cx, cy] = [x + w / 2, y + h / 2];
  return [
    { x: cx + out, y: cy - out },
    { x: cx + out, y: cy + out },
    { x: cx - out, y: cy - out },
    { x: cx - out, y: cy + out },
  ];
}

function meet(a: PixelRect, b: PixelRect): boolean {
  return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
}

function paintSign(pen: Pen, { x, y }: Pixel, severity: Severity, half: number): void {
  const { ctx, colours } = pen;
  ctx.fillStyle = colours[severity];
  ctx.strokeStyle = colours.raised;
  ctx.lineWidth = 1.5;
  ctx.beginPath();
  if (severity === 'stop') {
    for (let i = 0; i < 8; i++) {
      const turn = Math.PI / 8 + (i * Math.PI) / 4;
      ctx.lineTo(x + half * Math.cos(turn), y + half * Math.sin(turn));
    }
  } else if (severity === 'warn') {
    ctx.moveTo(x, y - half);
    ctx.lineTo(x + half, y + 0.8 * half);
    ctx.lineTo(x - half, y + 0.8 * half);
  } else {
    ctx.arc(x, y, 0.85 * half, 0, Math.PI * 2);
  }
  ctx.closePath();
  ctx.fill();
  ctx.stroke();
  if (half < LEAST_LETTER_PX) return;
  paintText(
    { ...pen, labels: undefined },
    SIGNS[severity],
    { x, y: y + (severity === 'warn' ? 1.5 : 0.5) },
    { size: 1.3 * half, weight: 700, align: 'center', colour: colours.raised },
  );
}
