import { letterOf } from '../../engine/geometry';
import type { PotPaint, RackLook } from '../look';
import type { Scene } from '../plane/scene';
import type { PotOnPlane } from '../plane/things';
import { toPixel } from '../plane/viewport';
import type { Pen } from './pen';
import { paintText, seenBy, setFont } from './pen';
import { barePot, inView } from './pots';
import { figureOf, signOf } from './potSprite';

/** Widths from which a pot carries its short code (`C7`), and its full one (`2B-C7`). */
const SHORT_CODE_PX = 25;
const FULL_CODE_PX = 58;
/** A letter takes the middle: its code needs a larger pot, and more so written in full. */
const LETTERED_CODE_PX = 52;
const LETTERED_FULL_CODE_PX = 104;
const LEAST_TEXT_PX = 8;

/** Codes and figures of the pots seen from above, over lamps and contours, where there is room. */
export function paintPotWords(pen: Pen, scene: Scene, look: RackLook): void {
  const { ctx, view } = pen;
  const seen = seenBy(pen);
  for (const p of scene.pots) {
    const widthPx = p.halfWidth * 2 * view.scale;
    if (widthPx < LEAST_TEXT_PX * 2 || !inView(p, seen)) continue;
    const given = look.potPaint?.get(p.pot.id);
    const paint = given ?? barePot(pen, p.pot.guard, false);
    if (paint.mark === 'dead') continue;
    const onField = given === undefined && look.field?.has(p.pot.shelfId) === true;
    const at = toPixel(view, p.centre);
    ctx.globalAlpha = paint.dim ? 0.5 : 1;
    paintWords(pen, p, onGround(pen, paint, onField), at.x, at.y, widthPx);
    ctx.globalAlpha = 1;
  }
}

/** What the words stand on: the pot's fill, the tray where the pot is missing, the field. */
function onGround(pen: Pen, paint: PotPaint, onField: boolean): PotPaint {
  const { colours } = pen;
  if (onField) return { fill: colours.raised, ink: colours.ink };
  if (paint.mark !== 'missing') return paint;
  return { fill: colours.tray, ink: colours.ink, mark: 'missing' };
}

/** As large as the pot is wide. Figures of one length are written alike, whatever their digits. */
function figureSize(pen: Pen, figure: string, widthPx: number): number {
  setFont(pen, 10, 600);
  const perPx = pen.ctx.measureText(figure.replaceAll(/\d/g, '0')).width / 10;
  return Math.min(14, widthPx * 0.42, (widthPx - 3) / perPx);
}

function paintWords(
  pen: Pen,
  p: PotOnPlane,
  paint: PotPaint,
  x: number,
  y: number,
  widthPx: number,
): void {
  const lettered = signOf(paint) !== undefined;
  const figure = figureOf(paint);
  const style = {
    align: 'center',
    colour: paint.ink,
    ...(paint.dim ? {} : { halo: paint.fill }),
  } as const;
  const fullFrom = lettered ? LETTERED_FULL_CODE_PX : FULL_CODE_PX;
  const code = widthPx >= fullFrom ? p.pot.code : `${letterOf(p.pot.row)}${p.pot.column}`;
  const below = widthPx * 0.31;
  if (figure !== undefined) {
    const size = figureSize(pen, figure, widthPx);
    if (size < LEAST_TEXT_PX) return;
    const place = { x, y: lettered ? y + below : y };
    paintText(pen, figure, place, { ...style, size, weight: 600 });
    if (widthPx < FULL_CODE_PX) return;
    paintText(pen, code, { x, y: y - below }, { ...style, size: Math.min(11, widthPx * 0.16) });
  } else if (lettered) {
    if (widthPx < LETTERED_CODE_PX) return;
    const size = Math.min(12, widthPx * 0.18);
    paintText(pen, code, { x, y: y + below }, { ...style, size });
  } else if (widthPx >= SHORT_CODE_PX) {
    const size = Math.min(14, widthPx * (widthPx >= fullFrom ? 0.19 : 0.38), 14);
    paintText(pen, code, { x, y }, { ...style, size });
  }
}
