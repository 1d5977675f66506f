import { patternPath } from '../ui/pattern';
import { treatmentLook, treatmentPatterns } from '../ui/palette';
import { escape, mm, ptToMm } from './text';

/** SVG definitions of the patterns, once a page; `id` keeps pages apart. */
export function patternDefs(id: string): string {
  return treatmentPatterns
    .map(
      (pattern) =>
        `<pattern id="${id}-${pattern}" width="2.4" height="2.4" patternUnits="userSpaceOnUse"><g transform="scale(.3)"><path d="${patternPath(pattern)}" stroke="#000" stroke-width="1.1" stroke-opacity=".75" fill="none"/></g></pattern>`,
    )
    .join('');
}

/** Sides of the white field behind a mark, in its type size. */
function fieldOf(signs: number): { width: number; height: number } {
  return { width: 0.4 + 0.68 * signs, height: 1.1 };
}

/**
 * Type size of a mark in a disc, mm: so that colour and pattern show around it, but at arm's length
 * (12 pt) as long as the disc holds that, and never above 18 pt.
 */
export function markSizeMm(radiusMm: number, signs: number): number {
  const { width, height } = fieldOf(Math.max(1, signs));
  const most = (2 * radiusMm) / Math.hypot(width, height);
  return Math.min(ptToMm(18), most, Math.max(most * 0.62, ptToMm(12)));
}

/**
 * A treatment's mark: a disc in its colour and pattern, its letter on a white field so that it
 * reads on any of them and without colour. Millimetres.
 */
export function treatmentMark(
  id: string,
  treatment: { look: number; mark: string },
  at: { x: number; y: number; radius: number },
): string {
  const look = treatmentLook(treatment.look);
  const { x, y, radius } = at;
  const size = markSizeMm(radius, treatment.mark.length);
  const field = fieldOf(treatment.mark.length);
  const [width, height] = [field.width * size, field.height * size];
  const disc = `cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}"`;
  return (
    `<circle ${disc} fill="${look.colour}" stroke="#000" stroke-width=".25"/>` +
    `<circle ${disc} fill="url(#${id}-${look.pattern})"/>` +
    `<rect x="${mm(x - width / 2)}" y="${mm(y - height / 2)}" width="${mm(width)}" height="${mm(height)}" rx="${mm(size * 0.18)}" fill="#fff"/>` +
    `<text x="${mm(x)}" y="${mm(y + size * 0.36)}" font-size="${mm(size)}" font-weight="700" text-anchor="middle">${escape(treatment.mark)}</text>`
  );
}
