import { marksBetween, rulerStep } from '../plane/ruler';
import type { ViewName } from '../plane/things';
import { isNarrow, toPixel, visibleBox } from '../plane/viewport';
import type { Pen } from './pen';
import { paintText, paintUprightText } from './pen';
import { lengthNumber, lengthUnit, type UnitSystem } from '../../words';

const WIDE = { px: 22, text: 10, middle: 7.5, long: 8, short: 4 };
const THIN = { px: 15, text: 9, middle: 5, long: 5, short: 3 };

const markText = (mm: number, lengths: UnitSystem) => lengthNumber(mm, lengths).replace('-', '−');

/**
 * Rulers along the upper and left side, in the displayed system. Shelves shown from above together
 * have no common depth, and so no left ruler.
 */
export function paintRulers(pen: Pen, sceneView: ViewName): void {
  const { ctx, colours, size, view, lengths } = pen;
  const form = isNarrow(size) ? THIN : WIDE;
  const left = sceneView !== 'all';
  const step = rulerStep(view.scale, lengths);
  const seen = visibleBox(view, size);
  const begin = left ? form.px : 0;
  ctx.fillStyle = colours.surface;
  ctx.fillRect(0, 0, size.width, form.px);
  if (left) ctx.fillRect(0, 0, form.px, size.height);
  ctx.strokeStyle = colours.line;
  ctx.lineWidth = 1;
  ctx.beginPath();
  ctx.moveTo(begin, form.px + 0.5);
  ctx.lineTo(size.width, form.px + 0.5);
  if (left) {
    ctx.moveTo(form.px + 0.5, form.px);
    ctx.lineTo(form.px + 0.5, size.height);
  }
  ctx.stroke();

  const tick = (mm: number) =>
    Math.abs(mm / step.labelMm - Math.round(mm / step.labelMm)) < 1e-6 ? form.long : form.short;
  const across = (stepMm: number) => marksBetween(seen.left, seen.right, stepMm);
  const up = (stepMm: number) => (left ? marksBetween(seen.bottom, seen.top, stepMm) : []);
  const xOf = (mm: number) => toPixel(view, { across: mm, up: 0 }).x;
  const yOf = (mm: number) => toPixel(view, { across: 0, up: mm }).y;
  ctx.strokeStyle = colours.lineStrong;
  ctx.beginPath();
  for (const mm of across(step.tickMm)) {
    const x = Math.round(xOf(mm)) + 0.5;
    if (x < begin) continue;
    ctx.moveTo(x, form.px);
    ctx.lineTo(x, form.px - tick(mm));
  }
  for (const mm of up(step.tickMm)) {
    const y = Math.round(yOf(mm)) + 0.5;
    if (y < form.px) continue;
    ctx.moveTo(form.px, y);
    ctx.lineTo(form.px - tick(mm), y);
  }
  ctx.stroke();
  const style = { size: form.text, colour: colours.inkSoft } as const;
  for (const mm of across(step.labelMm)) {
    const x = xOf(mm);
    if (x < form.px + 18 || x > size.width - 14) continue;
    paintText(pen, markText(mm, lengths), { x, y: form.middle }, { ...style, align: 'center' });
  }
  for (const mm of up(step.labelMm)) {
    const y = yOf(mm);
    if (y < form.px + 18) continue;
    paintUprightText(pen, markText(mm, lengths), { x: form.middle, y }, style);
  }
  ctx.fillStyle = colours.surface;
  ctx.fillRect(0, 0, form.px, form.px);
  paintText(
    pen,
    lengthUnit(lengths),
    left ? { x: form.px / 2, y: form.px / 2 } : { x: 4, y: form.middle },
    { ...style, align: left ? 'center' : 'left' },
  );
}
