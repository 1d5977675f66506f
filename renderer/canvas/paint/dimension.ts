import { shortLength } from '../plane/shortLength';
import type { Pixel } from '../plane/viewport';
import type { Pen } from './pen';
import { paintPlate, paintText, setFont } from './pen';

const TICK = 4;

/**
 * A measured line between two pixels, upright or level, with ticks at its ends and its length: on a
 * level line where there is room, beside an upright one.
 */
export function paintDimension(
  pen: Pen,
  from: Pixel,
  to: Pixel,
  mm: number,
  style: { colour: string; ground: string; plate?: { fill: string; ink: string } },
): void {
  const { ctx } = pen;
  const upright = Math.abs(from.x - to.x) < 0.01;
  ctx.strokeStyle = style.colour;
  ctx.lineWidth = 1;
  ctx.setLineDash([]);
  ctx.beginPath();
  ctx.moveTo(from.x, from.y);
  ctx.lineTo(to.x, to.y);
  for (const end of [from, to]) {
    ctx.moveTo(end.x - (upright ? TICK : 0), end.y - (upright ? 0 : TICK));
    ctx.lineTo(end.x + (upright ? TICK : 0), end.y + (upright ? 0 : TICK));
  }
  ctx.stroke();
  const text = shortLength(mm, pen.lengths);
  setFont(pen, 11, 600);
  const width = ctx.measureText(text).width + 10;
  const span = upright ? Math.abs(to.y - from.y) : Math.abs(to.x - from.x);
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const fits = span > width + 8;
  // Beside an upright line there is always room; a level one that is too short carries it above.
  const at = upright
    ? { x: middle.x + width / 2 + 5, y: middle.y }
    : fits
      ? middle
      : { x: middle.x, y: middle.y - 14 };
  if (style.plate) {
    paintPlate(pen, text, at, style.plate);
    return;
  }
  if (fits && !upright) {
    ctx.fillStyle = style.ground;
    ctx.fillRect(at.x - width / 2, at.y - 8, width, 16);
  }
  paintText(pen, text, at, { size: 11, colour: style.colour, align: 'center' });
}
