import type { RackLook, ShelfField } from '../look';
import type { Shelf } from '../../../shared-types/rack';
import { toPixel } from '../plane/viewport';
import type { Pen } from './pen';
import { paintText, pixelRect } from './pen';

const pictures = new WeakMap<ShelfField, HTMLCanvasElement>();

/** One pixel a sample, the back row first, as it lies on the screen. */
function pictureOf(field: ShelfField): HTMLCanvasElement {
  const known = pictures.get(field);
  if (known) return known;
  const made = document.createElement('canvas');
  made.width = field.columns;
  made.height = field.rows;
  const ctx = made.getContext('2d');
  if (ctx) {
    for (let row = 0; row < field.rows; row++) {
      for (let column = 0; column < field.columns; column++) {
        ctx.fillStyle = field.colour(field.values[row * field.columns + column] ?? 0);
        ctx.fillRect(column, field.rows - 1 - row, 1, 1);
      }
    }
  }
  pictures.set(field, made);
  return made;
}

/** The field over a shelf seen from above, smoothed between samples, cut at the shelf's edge. */
export function paintField(pen: Pen, shelf: Shelf, field: ShelfField): void {
  const { ctx, view } = pen;
  const r = pixelRect(view, { left: 0, right: shelf.widthMm, bottom: 0, top: shelf.depthMm });
  const half = field.stepMm / 2;
  const area = pixelRect(view, {
    left: field.xMm0 - half,
    right: field.xMm0 + field.columns * field.stepMm - half,
    bottom: field.yMm0 - half,
    top: field.yMm0 + field.rows * field.stepMm - half,
  });
  ctx.save();
  ctx.beginPath();
  ctx.rect(r.x, r.y, r.w, r.h);
  ctx.clip();
  ctx.imageSmoothingEnabled = true;
  ctx.imageSmoothingQuality = 'high';
  ctx.drawImage(pictureOf(field), area.x, area.y, area.w, area.h);
  ctx.restore();
}

/** The field seen from the front: its mean over the shelf's depth, as a band at canopy height. */
export function paintFieldBand(pen: Pen, shelf: Shelf, field: ShelfField, atMm: number): void {
  const { ctx, view } = pen;
  const base = shelf.heightMm + atMm;
  for (let column = 0; column < field.columns; column++) {
    let sum = 0;
    for (let row = 0; row < field.rows; row++) {
      sum += field.values[row * field.columns + column] ?? 0;
    }
    const x = field.xMm0 + (column - 0.5) * field.stepMm;
    const left = Math.max(0, x);
    const right = Math.min(shelf.widthMm, x + field.stepMm);
    if (right <= left) continue;
    const a = toPixel(view, { across: left, up: base });
    ctx.fillStyle = field.colour(sum / field.rows);
    ctx.fillRect(a.x, a.y - 4, (right - left) * view.scale + 0.6, 8);
  }
}

/** Lines of equal value with their figures. */
export function paintContours(pen: Pen, look: RackLook, shelf: Shelf): void {
  const contours = look.field?.get(shelf.id)?.contours;
  if (!contours) return;
  const { ctx, view, colours } = pen;
  ctx.lineJoin = 'round';
  for (const contour of contours) {
    for (const ring of contour.rings) {
      const trace = () => {
        ctx.beginPath();
        ring.forEach(([x, y], i) => {
          const p = toPixel(view, { across: x, up: y });
          if (i === 0) ctx.moveTo(p.x, p.y);
          else ctx.lineTo(p.x, p.y);
        });
      };
      // A dark line on a pale one: seen on the dimmest and on the brightest ground.
      ctx.strokeStyle = 'rgb(255 255 255 / 55%)';
      ctx.lineWidth = 3;
      trace();
      ctx.stroke();
      ctx.strokeStyle = '#1b1630';
      ctx.lineWidth = 1.2;
      trace();
      ctx.stroke();
    }
  }
  for (const contour of contours) {
    const longest = contour.rings.reduce<readonly (readonly [number, number])[] | null>(
      (best, ring) => (best === null || ring.length > best.length ? ring : best),
      null,
    );
    const middle = longest?.[Math.floor(longest.length / 3)];
    if (!middle || (longest?.length ?? 0) < 6) continue;
    const p = toPixel(view, { across: middle[0], up: middle[1] });
    paintText(pen, contour.label, p, {
      size: 11,
      weight: 600,
      align: 'center',
      colour: '#1b1630',
      halo: colours.raised === '#ffffff' ? '#ffffff' : '#e8e6f2',
    });
  }
}
