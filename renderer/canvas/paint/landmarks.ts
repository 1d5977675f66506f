import { drainPoint } from '../../engine/geometry';
import { leadOf } from '../../engine/lamps';
import type { Point } from '../plane/box';
import type { Scene } from '../plane/scene';
import { toPixel } from '../plane/viewport';
import type { Pen } from './pen';

/** Drains of trays and leads of lamps from above, where the plan tells them: as on printed charts. */
export function paintLandmarks(pen: Pen, scene: Scene): void {
  for (const thing of scene.things) {
    if (thing.kind === 'tray') {
      const point = drainPoint(thing.tray);
      if (!point) continue;
      const { left, bottom } = thing.box;
      paintDrain(pen, { across: left + point.xMm, up: bottom + point.yMm });
    } else if (thing.kind === 'lamp') {
      const lead = leadOf(thing.lamp, thing.lampKind);
      if (!lead) continue;
      const { across, up } = thing.origin;
      paintLead(pen, { across: across + lead.xMm, up: up + lead.yMm });
    }
  }
}

/** A ring with a cross in it. */
function paintDrain(pen: Pen, point: Point): void {
  const { ctx, view, colours } = pen;
  const { x, y } = toPixel(view, point);
  const radius = 6;
  const half = radius * Math.SQRT1_2;
  ctx.beginPath();
  ctx.arc(x, y, radius, 0, 2 * Math.PI);
  ctx.fillStyle = colours.raised;
  ctx.fill();
  ctx.moveTo(x - half, y - half);
  ctx.lineTo(x + half, y + half);
  ctx.moveTo(x - half, y + half);
  ctx.lineTo(x + half, y - half);
  ctx.strokeStyle = colours.ink;
  ctx.lineWidth = 1.2;
  ctx.stroke();
}

/** A plug, seen from its side, at the end of the lamp. */
function paintLead(pen: Pen, point: Point): void {
  const { ctx, view, colours } = pen;
  const { x, y } = toPixel(view, point);
  ctx.fillStyle = colours.ink;
  ctx.strokeStyle = colours.raised;
  ctx.lineWidth = 1;
  ctx.beginPath();
  ctx.rect(x - 4, y - 4, 8, 8);
  ctx.fill();
  ctx.stroke();
}
