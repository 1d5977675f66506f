import type { Shelf, Tray } from '../../../shared-types/rack';
import { holeCentre, letterOf, trayCode, type Rect } from '../../engine/geometry';
import type { Page } from '../document';
import type { Paper, Sheet } from '../paper';
import type { ShownPot } from '../shown';
import { logLines } from '../sheetLog';
import { escape, mm, ptToMm } from '../text';
import { chartPage, chartRoom, LOG_LINE_MM, type ChartJob } from './chartPage';
import { CUT_LINE } from './key';
import { cutsBetween, type Stretch } from './cuts';
import { placing } from './placing';
import { drawPots, letterSizeMm } from './pots';
import { nameSides, RIM_MM } from './sides';

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
  const { sheet, scale } = bestFit(job, paper, tray);
  const signs = Math.max(1, ...job.shown.treatments.map(({ mark }) => mark.length));
  const name = `Planting chart, tray ${trayCode(shelf.number, tray.letter)}`;
  const code = { job, shelf, tray, shown };
  if (letterSizeMm(tray, scale, signs) >= SMALLEST_LETTER_MM || job.shown.treatments.length === 0) {
    const piece = { xMm: 0, yMm: 0, widthMm: tray.widthMm, depthMm: tray.depthMm };
    return [piecePage({ ...code, sheet, scale, piece, heading: name, id: tray.id })];
  }
  const partScale = scale * (PART_LETTER_MM / letterSizeMm(tray, scale, signs));
  const pieces = piecesOf(job, sheet, tray, Math.min(1, partScale));
  return pieces.map((piece, i) =>
    piecePage({
      ...code,
      sheet,
      scale: Math.min(1, partScale),
      piece,
      heading: `${name}, part ${i + 1} of ${pieces.length}${holesOf(tray, piece)}`,
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
  const [tall, wide] = sheets.map((sheet) => ({ sheet, pieces: piecesOf(job, sheet, tray, 1) }));
  if (!tall || !wide) return [];
  const { sheet, pieces } = wide.pieces.length < tall.pieces.length ? wide : tall;
  return pieces.map((piece, i) =>
    piecePage({
      job,
      shelf,
      tray,
      shown,
      sheet,
      scale: 1,
      piece,
      heading: `True size, tray ${trayCode(shelf.number, tray.letter)}, sheet ${i + 1} of ${pieces.length}${holesOf(tray, piece)}`,
      id: `${tray.id}t${i}`,
    }),
  );
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
function bestFit(job: ChartJob, paper: Paper, tray: Tray): { sheet: Sheet; scale: number } {
  const rim = rimMm(job.behind);
  const fits = [false, true].map((wide) => {
    const sheet: Sheet = { paper, wide };
    const room = chartRoom(job, sheet);
    const scale = Math.min(
      (room.width - rim.across) / tray.widthMm,
      (room.height - rim.down) / tray.depthMm,
      1,
    );
    return { sheet, scale };
  });
  const [tall, wide] = fits;
  if (!tall || !wide) throw new TypeError('there are two ways to lay a sheet');
  return wide.scale > tall.scale ? wide : tall;
}

function piecesOf(job: ChartJob, sheet: Sheet, tray: Tray, scale: number): Rect[] {
  const { grid } = tray;
  if (!grid) return [];
  const room = chartRoom(job, sheet);
  const rim = rimMm(job.behind);
  const holes = Array.from({ length: grid.rows }, (_, r) =>
    Array.from({ length: grid.columns }, (_, c) => holeCentre(grid, r + 1, c + 1)),
  ).flat();
  const across = cutsBetween(
    tray.widthMm,
    (room.width - rim.across) / scale,
    holes.map(({ xMm }) => xMm),
    grid.potDiameterMm,
  );
  const down = cutsBetween(
    tray.depthMm,
    (room.height - rim.down) / scale,
    holes.map(({ yMm }) => yMm),
    grid.potDiameterMm,
  );
  return down.flatMap((y: Stretch) =>
    across.map((x: Stretch) => ({
      xMm: x.from,
      yMm: y.from,
      widthMm: x.to - x.from,
      depthMm: y.to - y.from,
    })),
  );
}

/** `, rows A–C, columns 1–4`: the holes that lie whole in a piece. */
function holesOf(tray: Tray, piece: Rect): string {
  const { grid } = tray;
  if (!grid) return '';
  const r = grid.potDiameterMm / 2 - 1e-6;
  const rows: number[] = [];
  const columns: number[] = [];
  for (let row = 1; row <= grid.rows; row++) {
    for (let column = 1; column <= grid.columns; column++) {
      const { xMm, yMm } = holeCentre(grid, row, column);
      if (xMm - r < piece.xMm || xMm + r > piece.xMm + piece.widthMm) continue;
      if (yMm - r < piece.yMm || yMm + r > piece.yMm + piece.depthMm) continue;
      rows.push(row);
      columns.push(column);
    }
  }
  if (rows.length === 0) return '';
  const ends = (list: number[]) => [Math.min(...list), Math.max(...list)] as const;
  const [firstRow, lastRow] = ends(rows);
  const [firstColumn, lastColumn] = ends(columns);
  return `, rows ${letterOf(firstRow)}–${letterOf(lastRow)}, columns ${firstColumn}–${lastColumn}`;
}

interface PiecePage {
  job: ChartJob;
  shelf: Shelf;
  tray: Tray;
  shown: ReadonlyMap<string, ShownPot>;
  sheet: Sheet;
  scale: number;
  piece: Rect;
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
    piece,
    headings: { rows: true, columns: true, rowTicks: true },
  });
  const box = { left, top, width, height };
  const whole = width >= tray.widthMm * scale - 1e-6 && height >= tray.depthMm * scale - 1e-6;
  const scaleWords = scale === 1 ? 'true size, 1 : 1' : `drawn 1 : ${(1 / scale).toFixed(1)}`;
  const svg =
    `<clipPath id="${id}c"><rect x="${mm(left)}" y="${mm(top)}" width="${mm(width)}" height="${mm(height)}"/></clipPath>` +
    outline(given, left, top) +
    (whole ? drawing.svg : clipped(drawing.svg, `${id}c`)) +
    nameSides(box, job.behind) +
    `<text x="${mm(left + width)}" y="${mm(top - 2.6)}" font-size="${mm(ptToMm(8))}" text-anchor="end">${scaleWords}</text>`;
  const bottom = top + height + RIM_MM.bottom;
  const log = logSvg(job.logs.get(tray.id) ?? [], bottom, room.width);
  const chart = {
    heading: given.heading,
    width: room.width,
    height: bottom + (log === '' ? 0 : LOG_LINE_MM),
    svg: svg + log,
  };
  return chartPage(job, sheet, chart, drawing);
}

function logSvg(log: readonly string[], top: number, width: number): string {
  const size = ptToMm(8);
  const [line] = logLines(log, size, width, 1);
  return line === undefined
    ? ''
    : `<text x="0" y="${mm(top + size)}" font-size="${mm(size)}">${escape(line)}</text>`;
}

/** Keeps pots that are cut inside the piece. */
function clipped(svg: string, id: string): string {
  return svg.replaceAll(CUT_LINE, `${CUT_LINE} clip-path="url(#${id})"`);
}

/** The tray's own sides in full, cuts in dashes. */
function outline({ job, tray, scale, piece }: PiecePage, left: number, top: number): string {
  const width = piece.widthMm * scale;
  const height = piece.depthMm * scale;
  const nearLeft = piece.xMm <= 1e-6;
  const nearRight = piece.xMm + piece.widthMm >= tray.widthMm - 1e-6;
  const nearFront = piece.yMm <= 1e-6;
  const nearBack = piece.yMm + piece.depthMm >= tray.depthMm - 1e-6;
  const line = (own: boolean, x1: number, y1: number, x2: number, y2: number) =>
    `<path d="M${mm(x1)},${mm(y1)}L${mm(x2)},${mm(y2)}" fill="none" stroke="${own ? '#000' : '#555'}" stroke-width="${own ? '.5' : '.25'}" ${own ? '' : 'stroke-dasharray="2 1.5"'}/>`;
  const [right, bottom] = [left + width, top + height];
  const { behind } = job;
  return (
    line(behind ? nearRight : nearLeft, left, top, left, bottom) +
    line(behind ? nearLeft : nearRight, right, top, right, bottom) +
    line(behind ? nearBack : nearFront, left, bottom, right, bottom) +
    line(behind ? nearFront : nearBack, left, top, right, top)
  );
}
