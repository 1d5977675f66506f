import { html, type Fragment, type Html } from '../html';
import { mm, ptToMm } from '../text';
import { textAt } from './textAt';

/** Room around a drawing for row letters, column numbers, row ticks and the names of the sides, mm. */
export const RIM_MM = { left: 8.4, right: 9.6, top: 7, bottom: 12 };
/** Of both sides together, and of top and bottom. */
export const RIM_ACROSS_MM = RIM_MM.left + RIM_MM.right;
export const RIM_DOWN_MM = RIM_MM.top + RIM_MM.bottom;

const TYPE_MM = ptToMm(10);

interface PageBox {
  left: number;
  top: number;
  width: number;
  height: number;
}

/** Names the four sides of what is drawn; the person stands at the bottom of the page. */
export function nameSides(box: PageBox, behind: boolean): Fragment {
  const middleX = box.left + box.width / 2;
  const middleY = box.top + box.height / 2;
  const below = box.top + box.height + 8.6;
  const [you, opposite] = behind ? ['BACK', 'FRONT'] : ['FRONT', 'BACK'];
  const [leftName, rightName] = behind ? ['RIGHT', 'LEFT'] : ['LEFT', 'RIGHT'];
  const beside = (x: number, name: string) =>
    html`<text transform="translate(${mm(x)} ${mm(middleY)}) rotate(-90)" font-size="${mm(TYPE_MM)}" font-weight="700" text-anchor="middle">${name}</text>`;
  const half = behind ? 21 : 22.5;
  return [
    triangle(middleX - half - 3, below - TYPE_MM * 0.35),
    triangle(middleX + half + 3, below - TYPE_MM * 0.35),
    textAt(middleX, below, TYPE_MM, `${you} – you stand here`, 700),
    textAt(middleX, box.top - 3.9, TYPE_MM, opposite, 700),
    beside(box.left - 5.2, leftName),
    beside(box.left + box.width + 9, rightName),
  ];
}

/** Points to the person who stands at the bottom of the page. */
function triangle(x: number, y: number): Html {
  return html`<path d="M${mm(x - 1.8)},${mm(y - 1.4)}h3.6l-1.8,3z" fill="#000"/>`;
}
