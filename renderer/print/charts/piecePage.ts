import type { Shelf, Tray } from '../../../shared-types/rack';
import { widestPotMm } from '../../engine/geometry';
import type { Page } from '../document';
import { html, type Fragment, type Html } from '../html';
import type { Sheet } from '../paper';
import type { ShownPot } from '../shown';
import { logLines } from '../sheets/sheetLog';
import { AT_END, svgText } from '../svg';
import { mm, ptToMm } from '../text';
import { drawBoards } from './boards';
import { chartPage, chartRoom, pageOf, LOG_LINE_MM, type ChartJob } from './chartPage';
import { extentOfTray } from './extent';
import { piecesOf, type Piece } from './pieces';
import { drawDrain, drawLeads, withMarks } from './landmarks';
import { moved, placing, type Placing } from './placing';
import { drawPots } from './pots';
import { nameSides, RIM_ACROSS_MM, RIM_DOWN_MM, RIM_MM } from './sides';
import { fixed } from '../../words';

/** The pieces of a tray, each with room on a sheet at this scale. */
export function piecesFor(
  job: ChartJob,
  sheet: Sheet,
  shelf: Shelf,
  tray: Tray,
  scale: number,
): Piece[] {
  const { grid } = tray;
  if (!grid) return [];
  const room = chartRoom(job, sheet);
  const known = {
    grid,
    widestMm: widestPotMm(tray),
    tray: { ...tray, xMm: 0, yMm: 0 },
    extent: extentOfTray(shelf, tray),
  };
  return piecesOf(known, {
    width: (room.width - RIM_ACROSS_MM) / scale,
    depth: (room.height - RIM_DOWN_MM) / scale,
  });
}

export interface PiecePage {
  job: ChartJob;
  shelf: Shelf;
  tray: Tray;
  shown: ReadonlyMap<string, ShownPot>;
  sheet: Sheet;
  scale: number;
  piece: Piece;
  heading: string;
  id: string;
}

/** A page with a piece of a tray, to scale between the names of its sides; drawn once it is shown. */
export const piecePage = (given: PiecePage): Page =>
  pageOf(given.sheet, given.heading, () => drawnPiece(given));

function drawnPiece(given: PiecePage): Page {
  const { job, tray, scale, piece, sheet, id } = given;
  const width = piece.widthMm * scale;
  const height = piece.depthMm * scale;
  const room = chartRoom(job, sheet);
  const left = RIM_MM.left + (room.width - RIM_ACROSS_MM - width) / 2;
  const top = RIM_MM.top;
  const at = placing(piece, { x: left, y: top }, scale, job.behind);
  const drawing = drawPots(given.shelf, tray, at, {
    shown: given.shown,
    part: { piece, clipId: `${id}c` },
    headings: { rows: true, columns: true, rowTicks: true },
  });
  const box = { left, top, width, height };
  const onShelf = onTray(at, tray);
  const shelfPart = { ...piece, xMm: piece.xMm + tray.xMm, yMm: piece.yMm + tray.yMm };
  const marks = {
    board: drawBoards(given.shelf, onShelf, shelfPart),
    lead: drawLeads(given.shelf, job.lampKinds, shelfPart, onShelf),
    drain: drawDrain(tray, piece, at),
  };
  const scaleWords = scale === 1 ? 'true size, 1 : 1' : `drawn 1 : ${fixed(1 / scale, 1)}`;
  const svg = [
    html`<clipPath id="${id}c"><rect x="${mm(left)}" y="${mm(top)}" width="${mm(width)}" height="${mm(height)}"/></clipPath>`,
    outline(given, at),
    drawing.svg,
    Object.values(marks),
    nameSides(box, job.behind),
    svgText(room.width, top - 2.6, ptToMm(8), scaleWords, AT_END),
  ];
  const bottom = top + height + RIM_MM.bottom;
  const log = logSvg(job.logs.get(tray.id) ?? [], bottom, room.width);
  const chart = {
    heading: given.heading,
    width: room.width,
    height: bottom + (log ? LOG_LINE_MM : 0),
    svg: [svg, log],
  };
  return chartPage(job, sheet, chart, { ...drawing, signs: withMarks(drawing.signs, marks) });
}

/** Page places of things measured on the shelf, where `at` takes them from the tray's corner. */
const onTray = (at: Placing, tray: Tray) => moved(at, -tray.xMm, -tray.yMm);

function logSvg(log: readonly string[], top: number, width: number): Html | null {
  const size = ptToMm(8);
  const [line] = logLines(log, size, width, 1);
  return line === undefined ? null : svgText(0, top + size, size, line);
}

/** The tray's own sides in full, cuts in dashes. */
function outline({ shelf, tray, piece }: PiecePage, at: Placing): Fragment {
  const extent = extentOfTray(shelf, tray);
  const [right, back] = [piece.xMm + piece.widthMm, piece.yMm + piece.depthMm];
  const within = (v: number, from: number, to: number) => v >= from - 1e-6 && v <= to + 1e-6;
  const upright = (x: number, own: boolean) => {
    const [from, to] = own
      ? [Math.max(0, piece.yMm), Math.min(tray.depthMm, back)]
      : [piece.yMm, back];
    return within(x, piece.xMm, right) && from < to ? side(at, [x, from], [x, to], own) : null;
  };
  const level = (y: number, own: boolean) => {
    const [from, to] = own
      ? [Math.max(0, piece.xMm), Math.min(tray.widthMm, right)]
      : [piece.xMm, right];
    return within(y, piece.yMm, back) && from < to ? side(at, [from, y], [to, y], own) : null;
  };
  const isCut = (at: number, end: number) => Math.abs(at - end) > 1e-6;
  return [
    isCut(piece.xMm, extent.xMm) && upright(piece.xMm, false),
    isCut(right, extent.xMm + extent.widthMm) && upright(right, false),
    isCut(piece.yMm, extent.yMm) && level(piece.yMm, false),
    isCut(back, extent.yMm + extent.depthMm) && level(back, false),
    upright(0, true),
    upright(tray.widthMm, true),
    level(0, true),
    level(tray.depthMm, true),
  ];
}

function side(
  at: Placing,
  [x1, y1]: readonly [number, number],
  [x2, y2]: readonly [number, number],
  own: boolean,
): Html {
  return html`<path d="M${mm(at.x(x1))},${mm(at.y(y1))}L${mm(at.x(x2))},${mm(at.y(y2))}" fill="none" stroke="${own ? '#000' : '#555'}" stroke-width="${own ? '.5' : '.25'}" ${!own && html`stroke-dasharray="2 1.5"`}/>`;
}
