import type { Shelf } from '../../../shared-types/rack';
import { baysOf, boardRect, rectsOverlap, type Rect } from '../../engine/geometry';
import { html, type Fragment, type Html } from '../html';
import { mm, ptToMm } from '../text';
import { boxOf, type PageBox, type Placing } from './placing';
import { textAt } from './textAt';

const NAME_MM = ptToMm(8);
/** A board thinner than this on paper is drawn this wide, so that it is not taken for a line. */
const LEAST_MM = 0.9;

/** The boards of a shelf, as far as they stand over what is shown, and the names of its bays. */
export function drawBoards(shelf: Shelf, at: Placing, shown: Rect): Fragment {
  const boards = (shelf.boards ?? [])
    .map((board) => boardRect(shelf, board))
    .filter((rect) => rectsOverlap(rect, shown));
  if (boards.length === 0) return null;
  const parts = boards.map((rect) => {
    const box = boxOf(clipped(rect, shown), at);
    const [width, height] = [Math.max(LEAST_MM, box.width), Math.max(LEAST_MM, box.height)];
    const left = box.left + (box.width - width) / 2;
    const top = box.top + (box.height - height) / 2;
    return html`<g class="board">${boardMark({ left, top, width, height })}</g>`;
  });
  const names = baysOf(shelf).flatMap(({ name, rect }) => {
    if (!rectsOverlap(rect, shown)) return [];
    const box = boxOf(clipped(rect, shown), at);
    if (box.width < 16) return [];
    const middle = box.left + box.width / 2;
    return [
      html`<rect x="${mm(middle - 9)}" y="${mm(box.top - 1.7)}" width="18" height="3.4" fill="#fff"/>`,
      textAt(middle, box.top + 1, NAME_MM, `bay ${name}`, 700),
    ];
  });
  return [parts, names];
}

/** A board seen from above: a bar with a diagonal. */
export function boardMark({ left, top, width, height }: PageBox): Html {
  return html`<rect x="${mm(left)}" y="${mm(top)}" width="${mm(width)}" height="${mm(height)}" fill="#fff" stroke="#000" stroke-width=".3"/><path d="M${mm(left)},${mm(top)}l${mm(width)},${mm(height)}" stroke="#000" stroke-width=".3"/>`;
}

function clipped(rect: Rect, to: Rect): Rect {
  const xMm = Math.max(rect.xMm, to.xMm);
  const yMm = Math.max(rect.yMm, to.yMm);
  return {
    xMm,
    yMm,
    widthMm: Math.min(rect.xMm + rect.widthMm, to.xMm + to.widthMm) - xMm,
    depthMm: Math.min(rect.yMm + rect.depthMm, to.yMm + to.depthMm) - yMm,
  };
}
