import { patternPath } from '../ui/pattern';
import { treatmentLook, treatmentPatterns } from '../ui/palette';
import { escape, mm } from './text';

/** SVG definitions of the patterns, once a page; `id` keeps pages apart. */
export function patternDefs(id: string): string {
  return treatmentPatterns
    .map(
      (pattern) =>
        `<pattern id="${id}-${pattern}" width="2.4" height="2.4" patternUnits="userSpaceOnUse"><g transform="scale(.3)"><path d="${patternPath(pattern)}" stroke="#000" stroke-width="1.1" stroke-opacity=".75" fill="none"/></g></pattern>`,
    )
    .join('');
}

/**
 * A treatment's mark: a disc in its colour and pattern, its letter on a white field so that it
 * reads on any of them and without colour. Millimetres.
 */
export function treatmentMark(
  id: string,
  index: number,
  letter: string,
  at: { x: number; y: number; radius: number; letterMm: number },
): string {
  const look = treatmentLook(index);
  const { x, y, radius, letterMm } = at;
  const boxWidth = letterMm * (0.5 + 0.62 * letter.length);
  const boxHeight = letterMm * 1.12;
  return (
    `<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" fill="${look.colour}" stroke="#000" stroke-width=".25"/>` +
    `<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" fill="url(#${id}-${look.pattern})"/>` +
    `<rect x="${mm(x - boxWidth / 2)}" y="${mm(y - boxHeight / 2)}" width="${mm(boxWidth)}" height="${mm(boxHeight)}" rx="${mm(letterMm * 0.18)}" fill="#fff"/>` +
    `<text x="${mm(x)}" y="${mm(y + letterMm * 0.36)}" font-size="${mm(letterMm)}" font-weight="700" text-anchor="middle">${escape(letter)}</text>`
  );
}
