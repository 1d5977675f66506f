import type { Plan } from '../../../shared-types/plan';
import type { Shelf } from '../../../shared-types/rack';
import { boardRect, potsOfRack, trayCode, type Pot } from '../../engine/geometry';
import { html, type Fragment, type Html } from '../html';
import { mm } from '../text';

/** What stands in a pot's place: a mark of its own, or a figure on a colour (`rgb(r g b)`). */
export type MapFace = { mark: Html } | { text: string; fill: string };

export type MapFaceOf = (
  potId: string,
  at: { x: number; y: number; radius: number },
) => MapFace | null;

export interface RackMap {
  title: string;
  /** null: the pot is drawn empty. */
  faceOf: MapFaceOf;
}

/** Type no smaller than this, in the drawing's own mm, is worth drawing. */
const SMALLEST_MM = 7;
/** Drawings are this many times smaller on paper than what marks are made for. */
const SCALE = 10;

/** Shelf by shelf from the lowest: its maps beside each other, from above with the front below. */
export function rackMaps(plan: Plan, maps: readonly RackMap[]): Fragment {
  const pots = potsOfRack(plan.rack);
  return plan.rack.shelves.map((shelf) => {
    const own = pots.filter((pot) => pot.shelfId === shelf.id);
    return html`<div class="maps">${maps.map((map) => mapHtml(shelf, own, map))}</div>`;
  });
}

function mapHtml(shelf: Shelf, pots: readonly Pot[], { title, faceOf }: RackMap): Html {
  // Shelf axes have y to the back; a page has it downwards.
  const y = (value: number) => shelf.depthMm - value;
  const trays = shelf.trays.map(
    (tray) =>
      html`<rect x="${mm(tray.xMm)}" y="${mm(y(tray.yMm + tray.depthMm))}" width="${mm(tray.widthMm)}" height="${mm(tray.depthMm)}" fill="none" stroke="#000" stroke-width="2"/><text x="${mm(tray.xMm + 4)}" y="${mm(y(tray.yMm + tray.depthMm) - 6)}" font-size="24" font-weight="700">${trayCode(shelf.number, tray.letter)}</text>`,
  );
  const faces = pots.map((pot) => {
    const at = { x: pot.xMm, y: y(pot.yMm), radius: pot.diameterMm / 2 };
    return faceHtml(faceOf(pot.id, { x: 0, y: 0, radius: at.radius / SCALE }), at);
  });
  const boards = (shelf.boards ?? []).map((board) => {
    const { xMm, yMm, widthMm, depthMm } = boardRect(shelf, board);
    return html`<rect x="${mm(xMm)}" y="${mm(y(yMm + depthMm))}" width="${mm(widthMm)}" height="${mm(depthMm)}" fill="#fff" stroke="#000" stroke-width="2"/>`;
  });
  const head = 34;
  return html`<figure class="map"><figcaption>Shelf ${shelf.number}. ${title}</figcaption><svg role="img" aria-label="${title}, shelf ${shelf.number}" viewBox="-4 ${-head} ${mm(shelf.widthMm + 8)} ${mm(shelf.depthMm + head + 4)}"><rect x="0" y="0" width="${mm(shelf.widthMm)}" height="${mm(shelf.depthMm)}" fill="none" stroke="#777" stroke-width="1.5"/>${trays}${faces}${boards}</svg></figure>`;
}

function faceHtml(
  face: MapFace | null,
  { x, y, radius }: { x: number; y: number; radius: number },
): Html {
  if (face && 'mark' in face) {
    return html`<g transform="translate(${mm(x)} ${mm(y)}) scale(${SCALE})">${face.mark}</g>`;
  }
  const circle = html`<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" fill="${face?.fill ?? 'none'}" stroke="#000" stroke-width="1"${!face && html` stroke-dasharray="4 4"`}/>`;
  if (!face) return circle;
  const size = Math.max(
    SMALLEST_MM,
    Math.min(radius, (3.2 * radius) / Math.max(2, face.text.length)),
  );
  return html`${circle}<text x="${mm(x)}" y="${mm(y)}" dy=".35em" font-size="${mm(size)}" text-anchor="middle" fill="${inkOn(face.fill)}">${face.text}</text>`;
}

/** Black or white, whichever reads better: by the luminance of the ground (ITU-R BT.709). */
function inkOn(fill: string): '#000' | '#fff' {
  const [r = 255, g = 255, b = 255] = (fill.match(/[\d.]+/g) ?? []).map(Number);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b < 120 ? '#fff' : '#000';
}
