import type { Shelf, Tray } from '../../../shared-types/rack';
import { boundsOf, potsOfTray, type Rect } from '../../engine/geometry';

/**
 * All of a tray that a chart has to show, from the tray's corner: the tray, and the pots that reach
 * over its sides.
 */
export function extentOfTray(shelf: Shelf, tray: Tray): Rect {
  const { xMm, yMm, widthMm, depthMm } = onShelf(shelf, tray);
  return { xMm: xMm - tray.xMm, yMm: yMm - tray.yMm, widthMm, depthMm };
}

/** The same of a whole shelf, whose trays may stand over its edge. */
export function extentOfShelf(shelf: Shelf): Rect {
  const board = { xMm: 0, yMm: 0, widthMm: shelf.widthMm, depthMm: shelf.depthMm };
  return boundsOf([board, ...shelf.trays.map((tray) => onShelf(shelf, tray))]);
}

function onShelf(shelf: Shelf, tray: Tray): Rect {
  const pots = potsOfTray(shelf, tray).map((pot) => ({
    xMm: pot.xMm - pot.diameterMm / 2,
    yMm: pot.yMm - pot.diameterMm / 2,
    widthMm: pot.diameterMm,
    depthMm: pot.diameterMm,
  }));
  const { xMm, yMm, widthMm, depthMm } = tray;
  return boundsOf([{ xMm, yMm, widthMm, depthMm }, ...pots]);
}
