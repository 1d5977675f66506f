import type { RackLook, FieldOverlay } from '../look';
import type { Shelf } from '../../../shared-types/rack';
import type { Point } from '../plane/box';
import { contains, grown } from '../plane/box';
import { potAt } from '../plane/hit';
import type { Scene } from '../plane/scene';
import type { ShelfThing } from '../plane/things';
import { toPixel } from '../plane/viewport';
import type { Pen } from './pen';
import { paintText, pixelRect } from './pen';

const pictures = new WeakMap<FieldOverlay, HTMLCanvasElement>();

/** One pixel a sample, the back row first, as it lies on the screen. */
function pictureOf(field: FieldOverlay): HTMLCanvasElement {
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

/** The field over a shelf seen from above (the pen is at its corner), smoothed between samples, cut at the shelf's edge. */
export function paintField(pen: Pen, shelf: Shelf, field: FieldOverlay): void {
  const { ctx, view } = pen;
  const r = pixelRect(view, { left: 0, right: shelf.widthMm, bottom: 0, top: shelf.depthMm });
  const stepY = stepYOf(field);
  const area = pixelRect(view, {
    left: field.xMm0 - field.stepMm / 2,
    right: field.xMm0 + (field.columns - 0.5) * field.stepMm,
    bottom: field.yMm0 - stepY / 2,
    top: field.yMm0 + (field.rows - 0.5) * stepY,
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
export function paintFieldBand(pen: Pen, shelf: Shelf, field: FieldOverlay, atMm: number): void {
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

/** Lines of equal value with their figures; the pen is at the shelf's corner. */
export function paintContours(pen: Pen, scene: Scene, look: RackLook, thing: ShelfThing): void {
  const { shelf } = thing;
  const field = look.field?.get(shelf.id);
  const contours = field?.contours;
  if (!field || !contours) return;
  const { ctx, view } = pen;
  const edge = Math.max(field.stepMm, stepYOf(field));
  ctx.lineJoin = 'round';
  for (const { rings } of contours) {
    for (const ring of rings) {
      const trace = () => {
        ctx.beginPath();
        ring.forEach((point, i) => {
          const before = ring[i - 1];
          const p = toPixel(view, { across: point[0], up: point[1] });
          if (!before || alongBorder(before, point, shelf, edge)) ctx.moveTo(p.x, p.y);
          else ctx.lineTo(p.x, p.y);
        });
        ctx.stroke();
      };
      // A dark line on a pale one: seen on the dimmest and on the brightest ground.
      ctx.strokeStyle = 'rgb(255 255 255 / 45%)';
      ctx.lineWidth = 2.6;
      trace();
      ctx.strokeStyle = CONTOUR_INK;
      ctx.lineWidth = 1;
      trace();
    }
  }
  for (const { rings, label } of contours) {
    const place = labelPlace(rings, scene, thing, Math.max(2 * edge, LABEL_CLEAR_PX / view.scale));
    if (!place) continue;
    const p = toPixel(view, { across: place[0], up: place[1] });
    paintText(pen, label, p, {
      size: 10,
      weight: 600,
      align: 'center',
      colour: CONTOUR_INK,
      halo: '#f3f0fa',
    });
  }
}

/** A line's figure keeps off the shelf's sides, where the trays' codes are. */
const LABEL_CLEAR_PX = 16;
const CONTOUR_INK = '#1b1630';

type RingPoint = readonly [number, number];

function borderDistance(x: number, y: number, shelf: Shelf): number {
  return Math.min(x, y, shelf.widthMm - x, shelf.depthMm - y);
}

/** On the longest line, well inside the shelf, and if possible between pots. */
function labelPlace(
  rings: readonly (readonly RingPoint[])[],
  scene: Scene,
  { shelf, origin }: ShelfThing,
  clearMm: number,
): RingPoint | null {
  const longest = [...rings].sort((a, b) => b.length - a.length)[0] ?? [];
  const inside = longest.filter(([x, y]) => borderDistance(x, y, shelf) > clearMm);
  if (inside.length < 6) return null;
  const step = Math.max(1, Math.floor(inside.length / 24));
  const tried = inside.filter((_, i) => i % step === 0);
  const free = tried.find(([x, y]) =>
    isFree(scene, { across: origin.across + x, up: origin.up + y }, clearMm / 2),
  );
  return free ?? inside[Math.floor(inside.length / 3)] ?? null;
}

/** Neither pot nor lamp lies there. */
function isFree(scene: Scene, at: Point, clearMm: number): boolean {
  const lamps = scene.things.filter((t) => t.kind === 'lamp');
  return potAt(scene, at) === null && !lamps.some((t) => contains(grown(t.box, clearMm), at));
}

/** A ring closes along the border of the sampled area; that part is no line of equal value. */
function alongBorder(a: RingPoint, b: RingPoint, shelf: Shelf, edgeMm: number): boolean {
  const straight = Math.abs(a[0] - b[0]) < 0.01 || Math.abs(a[1] - b[1]) < 0.01;
  return (
    straight &&
    borderDistance(a[0], a[1], shelf) < edgeMm &&
    borderDistance(b[0], b[1], shelf) < edgeMm
  );
}

function stepYOf(field: FieldOverlay): number {
  return field.stepYMm ?? field.stepMm;
}
