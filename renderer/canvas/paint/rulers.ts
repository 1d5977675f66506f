import { lengthNumber, lengthUnit } from '../../ui/length';
import type { LengthSystem } from '../../ui/length';
import { marksBetween, rulerStep } from '../plane/ruler';
import { toPixel, visibleBox } from '../plane/viewport';
import type { Pen } from './pen';
import { paintText } from './pen';

export const RULER_PX = 22;

const markText = (mm: number, lengths: LengthSystem) => lengthNumber(mm, lengths).replace('-', '−');

/** Rulers along the upper and left side, in the displayed system. */
export function paintRulers(pen: Pen): void {
  const { ctx, colours, size, view, lengths } = pen;
  const step = rulerStep(view.scale, lengths);
  const seen = visibleBox(view, size);
  ctx.fillStyle = colours.surface;
  ctx.fillRect(0, 0, size.width, RULER_PX);
  ctx.fillRect(0, 0, RULER_PX, size.height);
  ctx.strokeStyle = colours.line;
  ctx.lineWidth = 1;
  ctx.beginPath();
  ctx.moveTo(RULER_PX, RULER_PX + 0.5);
  ctx.lineTo(size.width, RULER_PX + 0.5);
  ctx.moveTo(RULER_PX + 0.5, RULER_PX);
  ctx.lineTo(RULER_PX + 0.5, size.height);
  ctx.stroke();

  const labelled = (mm: number) =>
    Math.abs(mm / step.labelMm - Math.round(mm / step.labelMm)) < 1e-6;
  ctx.strokeStyle = colours.lineStrong;
  ctx.beginPath();
  for (const mm of marksBetween(seen.left, seen.right, step.tickMm)) {
    const x = Math.round(toPixel(view, { across: mm, up: 0 }).x) + 0.5;
    if (x < RULER_PX) continue;
    ctx.moveTo(x, RULER_PX);
    ctx.lineTo(x, RULER_PX - (labelled(mm) ? 8 : 4));
  }
  for (const mm of marksBetween(seen.bottom, seen.top, step.tickMm)) {
    const y = Math.round(toPixel(view, { across: 0, up: mm }).y) + 0.5;
    if (y < RULER_PX) continue;
    ctx.moveTo(RULER_PX, y);
    ctx.lineTo(RULER_PX - (labelled(mm) ? 8 : 4), y);
  }
  ctx.stroke();
  const style = { size: 10, colour: colours.inkSoft } as const;
  for (const mm of marksBetween(seen.left, seen.right, step.labelMm)) {
    const { x } = toPixel(view, { across: mm, up: 0 });
    if (x < RULER_PX + 18) continue;
    paintText(pen, markText(mm, lengths), { x, y: 7.5 }, { ...style, align: 'center' });
  }
  for (const mm of marksBetween(seen.bottom, seen.top, step.labelMm)) {
    const { y } = toPixel(view, { across: 0, up: mm });
    if (y < RULER_PX + 18) continue;
    ctx.save();
    ctx.translate(7.5, y);
    ctx.rotate(-Math.PI / 2);
    paintText(pen, markText(mm, lengths), { x: 0, y: 0 }, { ...style, align: 'center' });
    ctx.restore();
  }
  ctx.fillStyle = colours.surface;
  ctx.fillRect(0, 0, RULER_PX, RULER_PX);
  paintText(
    pen,
    lengthUnit(lengths),
    { x: RULER_PX / 2, y: RULER_PX / 2 },
    {
      ...style,
      align: 'center',
    },
  );
}
