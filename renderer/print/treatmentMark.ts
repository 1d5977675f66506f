import { treatmentLook } from '../ui/colour/palette';
import { discPattern } from './discPattern';
import { html, type Html } from './html';
import { mm, ptToMm } from './text';

/** Sides of the white field behind a mark, in its type size. */
function fieldOf(signs: number): { width: number; height: number } {
  return { width: 0.4 + 0.68 * signs, height: 1.1 };
}

/** Shares of a disc that a mark takes: in a large one, and where the pattern still shows around it. */
const LEAST_SHARE = 0.62;
const MOST_SHARE = 0.78;

/**
 * Type size of a mark in a disc, mm: so that colour and pattern show around it. It is read at arm's
 * length (12 pt) where the pattern still shows, goes down to 8 pt for the pattern's sake, below that
 * only where the disc holds no more, and never above 18 pt.
 */
export function markSizeMm(radiusMm: number, signs: number): number {
  const { width, height } = fieldOf(Math.max(1, signs));
  const most = (2 * radiusMm) / Math.hypot(width, height);
  const least = Math.min(ptToMm(8), most);
  const tight = Math.min(ptToMm(12), most * MOST_SHARE);
  return Math.min(ptToMm(18), Math.max(most * LEAST_SHARE, tight, least));
}

/**
 * A treatment's mark: a disc in its colour and pattern, its letter on a white field so that it
 * reads on any of them and without colour. Millimetres.
 */
export function treatmentMark(
  treatment: { look: number; mark: string },
  at: { x: number; y: number; radius: number },
): Html {
  const look = treatmentLook(treatment.look);
  const { x, y, radius } = at;
  const size = markSizeMm(radius, treatment.mark.length);
  const field = fieldOf(treatment.mark.length);
  const [width, height] = [field.width * size, field.height * size];
  const pattern = discPattern(look.pattern, radius);
  const style = pattern.filled
    ? html`fill="#000"`
    : html`fill="none" stroke="#000" stroke-width=".35"`;
  const drawn = pattern.d
    ? html`<path transform="translate(${mm(x)} ${mm(y)})" d="${pattern.d}" ${style}/>`
    : null;
  return html`<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" fill="${look.colour}" stroke="#000" stroke-width=".25"/>${drawn}<rect x="${mm(x - width / 2)}" y="${mm(y - height / 2)}" width="${mm(width)}" height="${mm(height)}" rx="${mm(size * 0.18)}" fill="#fff"/><text x="${mm(x)}" y="${mm(y + size * 0.36)}" font-size="${mm(size)}" font-weight="700" text-anchor="middle">${treatment.mark}</text>`;
}
