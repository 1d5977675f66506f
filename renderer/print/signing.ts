import { html, type Fragment } from './html';
import { svgText } from './svg';
import { mm, ptToMm } from './text';

/** Height of the line to sign on. */
export const SIGNING_MM = 8;
const TYPE_MM = ptToMm(9);

/** `Planted by … Date …`, to be filled in by hand, from its upper left corner. */
export function signingLine(x: number, y: number): Fragment {
  const base = y + SIGNING_MM - 2;
  return [
    svgText(x, base, TYPE_MM, 'Planted by'),
    svgText(x + 62, base, TYPE_MM, 'Date'),
    html`<path d="M${mm(x + 18)},${mm(base + 0.4)}h40M${mm(x + 71)},${mm(base + 0.4)}h30" stroke="#000" stroke-width=".2"/>`,
  ];
}
