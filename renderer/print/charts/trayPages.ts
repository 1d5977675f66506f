import type { Shelf, Tray } from '../../../shared-types/rack';
import { letterOf, potsOfTray, trayCode, widestPotMm } from '../../engine/geometry';
import type { Page } from '../document';
import { html, type Fragment, type Html } from '../html';
import type { Paper, Sheet } from '../paper';
import type { ShownPot } from '../shown';
import { logLines } from '../sheetLog';
import { AT_END, svgText } from '../svg';
import { mm, ptToMm } from '../text';
import { chartPage, chartRoom, LOG_LINE_MM, type ChartJob } from './chartPage';
import { drawBoards } from './boards';
import { extentOfTray } from './extent';
import { piecesOf, type Piece } from './pieces';
import { moved, placing, type Placing } from './placing';
import { drawPots, letterSizeMm } from './pots';
import { nameSides, RIM_MM } from './sides';
import { fixed, say } from '../../words';

/** Below this the letters on a chart cannot be read at the bench: the tray is shown in parts. */
const SMALLEST_LETTER_MM = ptToMm(8);
/** Size of the letters where a tray is shown in parts. */
const PART_LETTER_MM = ptToMm(10);

/** One tray: on one page, to scale, or in parts where its letters would be too small. */
export function trayPages(
  job: ChartJob,
  paper: Paper,
  shelf: Shelf,
  tray: Tray,
  shown: ReadonlyMap<string, ShownPot>,
): Page[] {
  if (!tray.grid) return [];
  const { sheet, scale } = bestFit(job, paper, shelf, tray);
  const signs = Math.max(1, ...job.shown.treatments.map(({ mark }) => mark.length));
  const name = `Planting chart, tray ${trayCode(shelf.number, tray.letter)}`;
  const code = { job, shelf, tray, shown };
  if (
    letterSizeMm(shelf, tray, scale, signs) >= SMALLEST_LETTER_MM ||
    job.shown.treatments.length === 0
  ) {
    const [piece] = piecesFor(job, sheet, shelf, tray, scale);
    return piece ? [piecePage({ ...code, sheet, scale, piece, heading: name, id: tray.id })] : [];
  }
  const partScale = scale * (PART_LETTER_MM / letterSizeMm(shelf, tray, scale, signs));
  const pieces = piecesFor(job, sheet, shelf, tray, Math.min(1, partScale));
  return pieces.map((piece, i) =>
    piecePage({
      ...code,
      sheet,
      scale: Math.min(1, partScale),
      piece,
      heading: `${name}, part ${i + 1} of ${pieces.length}${holesOf(piece)}`,
      id: `${tray.id}p${i}`,
    }),
  );
}

/** One tray at true size, in sheets to be laid side by side. */
export function trueSizePages(
  job: ChartJob,
  paper: Paper,
  shelf: Shelf,
  tray: Tray,
  shown: ReadonlyMap<string, ShownPot>,
): Page[] {
  if (!tray.grid) return [];
  const sheets = [false, true].map((wide): Sheet => ({ paper, wide }));
  const name = `True size, tray ${trayCode(shelf.number, tray.letter)}`;
  const cut = sheets
    .filter((sheet) => hasRoomForPot(job, sheet, tray))
    .map((sheet) => ({ sheet, pieces: piecesFor(job, sheet, shelf, tray, 1) }));
  const [first, second] = cut;
  if (!first) return [tooLargePage(job, { paper, wide: false }, shelf, tray, name)];
  const { sheet, pieces } = second && second.pieces.length < first.pieces.length ? second : first;
  return pieces.map((piece, i) =>
    piecePage({
      job,
      shelf,
      tray,
      shown,
      sheet,
      scale: 1,
      piece,
      heading: `${name}, sheet ${i + 1} of ${pieces.length}${holesOf(piece)}`,
      id: `${tray.id}t${i}`,
    }),
  );
}

/** Whether a sheet holds a pot whole at true size. */
function hasRoomForPot(job: ChartJob, sheet: Sheet, tray: Tray): boolean {
  const room = chartRoom(job, sheet);
  const rim = rimMm(job.behind);
  const most = Math.min(room.width - rim.across, room.height - rim.down);
  return most > widestPotMm(tray);
}

/** Says which pots cannot be shown at true size, in place of their sheets. */
function tooLargePage(
  job: ChartJob,
  sheet: Sheet,
  shelf: Shelf,
  tray: Tray,
  heading: string,
): Page {
  const codes = potsOfTray(shelf, tray).map((pot) => pot.code);
  const size = say('length', job.frame.lengths, widestPotMm(tray));
  const text = [
    `Pots of ${size} are wider than the room on ${sheet.paper}. Use the chart of the whole tray.`,
    `Not shown at true size: ${codes.join(', ')}.`,
  ];
  return { sheet, heading, body: () => text.map((words) => html`<p>${words}</p>`) };
}

function rimMm(behind: boolean): { left: number; right: number; across: number; down: number } {
  const right = behind ? RIM_MM.side : 4.4;
  return {
    left: RIM_MM.side,
    right,
    across: RIM_MM.side + right,
    down: RIM_MM.top + RIM_MM.bottom,
  };
}

/** The way to lay the paper that shows the tray largest, never above true size. */
function bestFit(
  job: ChartJob,
  paper: Paper,
  shelf: Shelf,
  tray: Tray,
): { sheet: Sheet; scale: number } {
  const rim = rimMm(job.behind);
  const extent = extentOfTray(shelf, tray);
  const fits = [false, true].map((wide) => {
    const sheet: Sheet = { paper, wide };
    const room = chartRoom(job, sheet);
    const scale = Math.min(
      (room.width - rim.across) / extent.widthMm,
      (room.height - rim.down) / extent.depthMm,
      1,
    );
    return { sheet, scale };
  });
  const [tall, wide] = fits;
  if (!tall || !wide) throw new TypeError('there are two ways to lay a sheet');
  return wide.scale > tall.scale ? wide : tall;
}

function piecesFor(job: ChartJob, sheet: Sheet, shelf: Shelf, tray: Tray, scale: number): Piece[] {
  const { grid } = tray;
  if (!grid) return [];
  const room = chartRoom(job, sheet);
  const rim = rimMm(job.behind);
  const known = {
    ...{ grid, widestMm: widestPotMm(tray), tray: { ...tray, xMm: 0, yMm: 0 } },
    extent: extentOfTray(shelf, tray),
  };
  return piecesOf(known, {
    width: (room.width - rim.across) / scale,
    depth: (room.height - rim.down) / scale,
  });
}

/** `, rows A–C, columns 1–4`: the holes that a piece shows whole. */
function holesOf({ holes }: Piece): string {
  if (holes.size === 0) return '';
  const places = [...holes].map((hole) => hole.split(':').map(Number));
  const ends = (list: number[]) => [Math.min(...list), Math.max(...list)] as const;
  const [firstRow, lastRow] = ends(places.map(([row = 0]) => row));
  const [firstColumn, lastColumn] = ends(places.map(([, column = 0]) => column));
  return `, rows ${letterOf(firstRow)}–${letterOf(lastRow)}, columns ${firstColumn}–${lastColumn}`;
}

interface PiecePage {
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

function piecePage(given: PiecePage): Page {
  const { job, tray, scale, piece, sheet, id } = given;
  const rim = rimMm(job.behind);
  const width = piece.widthMm * scale;
  const height = piece.depthMm * scale;
  const room = chartRoom(job, sheet);
  const left = rim.left + (room.width - rim.across - width) / 2;
  const top = RIM_MM.top;
  const at = placing(piece, { x: left, y: top }, scale, job.behind);
  const drawing = drawPots(given.shelf, tray, at, {
    shown: given.shown,
    part: { piece, clipId: `${id}c` },
    headings: { rows: true, columns: true, rowTicks: true },
  });
  const box = { left, top, width, height };
  const scaleWords = scale === 1 ? 'true size, 1 : 1' : `drawn 1 : ${fixed(1 / scale, 1)}`;
  const svg = [
    html`<clipPath id="${id}c"><rect x="${mm(left)}" y="${mm(top)}" width="${mm(width)}" height="${mm(height)}"/></clipPath>`,
    outline(given, at),
    drawing.svg,
    drawBoards(given.shelf, onTray(at, tray), {
      ...piece,
      xMm: piece.xMm + tray.xMm,
      yMm: piece.yMm + tray.yMm,
    }),
    nameSides(box, job.behind),
    svgText(left + width, top - 2.6, ptToMm(8), scaleWords, AT_END),
  ];
  const bottom = top + height + RIM_MM.bottom;
  const log = logSvg(job.logs.get(tray.id) ?? [], bottom, room.width);
  const chart = {
    heading: given.heading,
    width: room.width,
    height: bottom + (log ? LOG_LINE_MM : 0),
    svg: [svg, log],
  };
  return chartPage(job, sheet, chart, drawing);
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
