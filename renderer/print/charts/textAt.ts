import { html, type Html } from '../html';
import { mm } from '../text';

/** Text around a middle, mm, with a white rim: it reads where it crosses a line. */
export function textAt(x: number, y: number, size: number, text: string, weight = 400): Html {
  return html`<text x="${mm(x)}" y="${mm(y)}" font-size="${mm(size)}" font-weight="${weight}" text-anchor="middle" ${HALO}>${text}</text>`;
}

const HALO = html`stroke="#fff" stroke-width=".9" paint-order="stroke"`;
