import type { Plan } from '../../../shared-types/plan';
import { boardRect, potsOfRack, trayCode } from '../../engine/geometry';
import { html, type Fragment } from '../html';
import { mm } from '../text';

/** What stands in a pot's circle, and how dark it is filled (0 white to 1). */
export interface MapFace {
  text: string;
  grey: number;
}

/** Type no smaller than this, in the drawing's own mm, is worth drawing. */
const SMALLEST_MM = 7;

/** The shelves from above, lowest first, the front below; a face for every pot that has one. */
export function rackMap(
  plan: Plan,
  label: string,
  faceOf: (potId: string) => MapFace | null,
): Fragment {
  const pots = potsOfRack(plan.rack);
  return plan.rack.shelves.map((shelf) => {
    const own = pots.filter((pot) => pot.shelfId === shelf.id);
    // Shelf axes have y to the back; a page has it downwards.
    const y = (value: number) => mm(shelf.depthMm - value);
    const trays = shelf.trays.map(
      (tray) =>
        html`<rect x="${mm(tray.xMm)}" y="${y(tray.yMm + tray.depthMm)}" width="${mm(tray.widthMm)}" height="${mm(tray.depthMm)}" fill="none" stroke="#000" stroke-width="2"/><text x="${mm(tray.xMm + 4)}" y="${y(tray.yMm + tray.depthMm + 6)}" font-size="20" font-weight="700">${trayCode(shelf.number, tray.letter)}</text>`,
    );
    const faces = own.map((pot) => {
      const face = faceOf(pot.id);
      const r = pot.diameterMm / 2;
      const grey = Math.round(255 * (1 - Math.min(1, Math.max(0, face?.grey ?? 0))));
      const size = Math.max(
        SMALLEST_MM,
        Math.min(r, (3.2 * r) / Math.max(2, face?.text.length ?? 1)),
      );
      const circle = html`<circle cx="${mm(pot.xMm)}" cy="${y(pot.yMm)}" r="${mm(r)}" fill="rgb(${grey} ${grey} ${grey})" stroke="#000" stroke-width="1"${!face && html` stroke-dasharray="4 4"`}/>`;
      if (!face) return circle;
      const ink = grey < 120 ? '#fff' : '#000';
      return html`${circle}<text x="${mm(pot.xMm)}" y="${y(pot.yMm)}" dy=".35em" font-size="${mm(size)}" text-anchor="middle" fill="${ink}">${face.text}</text>`;
    });
    const boards = (shelf.boards ?? []).map((board) => {
      const { xMm, yMm, widthMm, depthMm } = boardRect(shelf, board);
      return html`<rect x="${mm(xMm)}" y="${y(yMm + depthMm)}" width="${mm(widthMm)}" height="${mm(depthMm)}" fill="#fff" stroke="#000" stroke-width="2"/>`;
    });
    const head = 34;
    return html`<figure class="shelf"><figcaption>Shelf ${shelf.number}, seen from above, the front below</figcaption><svg role="img" aria-label="${label}, shelf ${shelf.number}" viewBox="-4 ${-head} ${mm(shelf.widthMm + 8)} ${mm(shelf.depthMm + head + 4)}"><rect x="0" y="0" width="${mm(shelf.widthMm)}" height="${mm(shelf.depthMm)}" fill="none" stroke="#777" stroke-width="1.5"/>${trays}${faces}${boards}</svg></figure>`;
  });
}
