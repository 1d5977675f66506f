import type { Severity } from '../../../shared-types/notice';
import type { RackLook } from '../look';
import type { Scene } from '../plane/scene';
import { outlineOf } from '../plane/scene';
import { fromAbove } from '../plane/things';
import { parseRef } from '../../document/queries/refs';
import type { Pen } from './pen';
import { paintText, pixelRect } from './pen';

const SIGNS: Record<Severity, string> = { stop: '!', warn: '!', note: 'i' };

/** Rings round the things a notice is about: shape and sign tell the severity, colour repeats it. */
export function paintRings(pen: Pen, scene: Scene, look: RackLook): void {
  const { ctx, colours } = pen;
  for (const [ref, severity] of look.ringed) {
    const box = outlineOf(scene, ref);
    if (!box) continue;
    const colour = colours[severity];
    const r = pixelRect(pen.view, box);
    const round = parseRef(ref)?.kind === 'pot' && fromAbove(scene.view);
    ctx.strokeStyle = colour;
    ctx.lineWidth = severity === 'stop' ? 3 : 2;
    ctx.setLineDash(severity === 'stop' ? [] : severity === 'warn' ? [7, 3] : [2, 3]);
    ctx.beginPath();
    if (round) ctx.arc(r.x + r.w / 2, r.y + r.h / 2, r.w / 2 + 2, 0, Math.PI * 2);
    else ctx.roundRect(r.x - 3, r.y - 3, r.w + 6, r.h + 6, 4);
    ctx.stroke();
    ctx.setLineDash([]);
    if (r.w < 20) continue;
    const at = { x: r.x + r.w - (round ? r.w * 0.1 : 0), y: r.y + (round ? r.w * 0.1 : 0) };
    paintSign(pen, at.x, at.y, severity, colour);
  }
}

function paintSign(pen: Pen, x: number, y: number, severity: Severity, colour: string): void {
  const { ctx, colours } = pen;
  ctx.fillStyle = colour;
  ctx.strokeStyle = colours.raised;
  ctx.lineWidth = 1.5;
  ctx.beginPath();
  if (severity === 'stop') {
    for (let i = 0; i < 8; i++) {
      const turn = Math.PI / 8 + (i * Math.PI) / 4;
      ctx.lineTo(x + 8 * Math.cos(turn), y + 8 * Math.sin(turn));
    }
  } else if (severity === 'warn') {
    ctx.moveTo(x, y - 8);
    ctx.lineTo(x + 8.5, y + 6.5);
    ctx.lineTo(x - 8.5, y + 6.5);
  } else {
    ctx.arc(x, y, 7, 0, Math.PI * 2);
  }
  ctx.closePath();
  ctx.fill();
  ctx.stroke();
  paintText(
    pen,
    SIGNS[severity],
    { x, y: y + (severity === 'warn' ? 1.5 : 0.5) },
    {
      size: 11,
      weight: 700,
      align: 'center',
      colour: colours.raised,
    },
  );
}
