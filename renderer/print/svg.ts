import { html, type Fragment, type Html } from './html';
import { mm } from './text';

/** A drawing of its own on a page, in mm; `label` says what it is to who cannot see it. */
export function svgDrawing(
  { width, height }: { width: number; height: number },
  label: string,
  content: Fragment,
): Html {
  return html`<svg width="${mm(width)}mm" height="${mm(height)}mm" viewBox="0 0 ${mm(width)} ${mm(height)}" role="img" aria-label="${label}">${content}</svg>`;
}

/** A line of text from its left end on the base line, mm; `more` are further attributes. */
export function svgText(
  x: number,
  y: number,
  size: number,
  words: string | number,
  more?: Html,
): Html {
  return html`<text x="${mm(x)}" y="${mm(y)}" font-size="${mm(size)}"${more ? html` ${more}` : null}>${words}</text>`;
}

export const BOLD = html`font-weight="700"`;
/** The text ends where it is placed. */
export const AT_END = html`text-anchor="end"`;
