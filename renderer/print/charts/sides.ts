import { html, type Fragment, type Html } from '../html';
import { mm, ptToMm } from '../text';
import { textAt } from './textAt';

/** Room around a drawing for row letters, column numbers and the names of the sides, mm. */
export const RIM_MM = { side: 8.4, top: 7, bottom: 12 };

const TYPE_MM = ptToMm(10);

interface PageBox {
  left: number;
  top: number;
  width: number;
  height: number;
}

/**
 * Names the sides of what is drawn: FRONT and LEFT where they are, and where the person stands at
 * the bottom of the page.
 */
export function nameSides(box: PageBox, behind: boolean): Fragment {
  const middleX = box.left + box.width / 2;
  const middleY = box.top + box.height / 2;
  const below = box.top + box.height + 8.6;
  const side = behind ? box.left + box.width + 8 : box.left - 5.2;
  const you = behind ? 'BACK – you stand here' : 'FRONT – you stand here';
  const half = behind ? 21 : 22.5;
  return [
    triangle(middleX - half - 3, below - TYPE_MM * 0.35),
    triangle(middleX + half + 3, below - TYPE_MM * 0.35),
    textAt(middleX, below, TYPE_MM, you, 700),
    behind && textAt(middleX, box.top - 3, TYPE_MM, 'FRONT', 700),
    html`<text transform="translate(${mm(side)} ${mm(middleY)}) rotate(-90)" font-size="${mm(TYPE_MM)}" font-weight="700" text-anchor="middle">LEFT</text>`,
  ];
}

/** Points to the person who stands at the bottom of the page. */
function triangle(x: number, y: number): Html {
  return html`<path d="M${mm(x - 1.8)},${mm(y - 1.4)}h3.6l-1.8,3z" fill="#000"/>`;
}
