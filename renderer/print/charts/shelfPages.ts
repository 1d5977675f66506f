import type { Shelf, Tray } from '../../../shared-types/rack';
import { trayCode } from '../../engine/geometry';
import type { Page } from '../document';
import { html, type Fragment, type Html } from '../html';
import type { Paper, Sheet } from '../paper';
import type { ShownPot, ShownTreatment } from '../shown';
import { AT_END, BOLD, svgText } from '../svg';
import { mm, ptToMm } from '../text';
import { chartPage, chartRoom, type ChartJob } from './chartPage';
import { drawBoards } from './boards';
import { extentOfShelf } from './extent';
import type { Sign } from './key';
import { boxOf, moved, placing, type PageBox, type Placing } from './placing';
import { drawPots, letterSizeMm, textAt, type Drawing } from './pots';
import { nameSides, RIM_MM } from './sides';
import { fixed } from '../../words';

const SMALLEST_LETTER_MM = ptToMm(8);
const NAME_MM = ptToMm(10);
/** Row letters and column numbers stand between trays where there is this much room, mm. */
const HEADING_ROOM_MM = 3.6;

type ShownPots = ReadonlyMap<string, ShownPot>;

/** A whole shelf with its trays where they stand, seen from above. */
export function shelfPage(job: ChartJob, paper: Paper, shelf: Shelf, shown: ShownPots): Page[] {
  if (!shelf.trays.some((tray) => tray.grid)) return [];
  const across = 2 * RIM_MM.side;
  const extent = extentOfShelf(shelf);
  const fits = [false, true].map((wide) => {
    const sheet: Sheet = { paper, wide };
    const room = chartRoom(job, sheet);
    const down = RIM_MM.top + RIM_MM.bottom;
    const scale = Math.min(
      (room.width - across) / extent.widthMm,
      (room.height - down) / extent.depthMm,
      1,
    );
    return { sheet, room, scale };
  });
  const best = fits.reduce((a, b) => (b.scale > a.scale ? b : a));
  const { sheet, room, scale } = best;
  const box = {
    left: (room.width - extent.widthMm * scale) / 2,
    top: RIM_MM.top,
    width: extent.widthMm * scale,
    height: extent.depthMm * scale,
  };
  const drawn = drawShelf(job, shelf, shown, box, scale);
  const chart = {
    heading: `Planting chart, shelf ${shelf.number}`,
    width: room.width,
    height: box.top + box.height + RIM_MM.bottom,
    svg: [
      drawn.svg,
      nameSides(box, job.behind),
      scaleText(box.left + box.width, box.top - 2.6, scale),
    ],
  };
  return [chartPage(job, sheet, chart, drawn)];
}

/** All shelves on one page, the highest at the top as they stand. */
export function rackPage(
  job: ChartJob,
  paper: Paper,
  shelves: readonly Shelf[],
  shown: ShownPots,
): Page[] {
  const stocked = shelves
    .filter((shelf) => shelf.trays.some((tray) => tray.grid))
    .sort((a, b) => b.heightMm - a.heightMm || b.number - a.number);
  if (stocked.length === 0) return [];
  const gap = 9;
  const extents = new Map(stocked.map((shelf) => [shelf, extentOfShelf(shelf)]));
  const widest = Math.max(...[...extents.values()].map((extent) => extent.widthMm));
  const fits = [false, true].flatMap((wide) => {
    const sheet: Sheet = { paper, wide };
    const room = chartRoom(job, sheet);
    return [1, 2, 3, 4].map((columns) => {
      const perColumn = Math.ceil(stocked.length / columns);
      const deepest = Array.from({ length: columns }, (_, c) =>
        stocked
          .slice(c * perColumn, (c + 1) * perColumn)
          .reduce((sum, shelf) => sum + (extents.get(shelf) ?? shelf).depthMm, 0),
      );
      const columnMm = room.width / columns;
      const scale = Math.min(
        (columnMm - 2 * RIM_MM.side) / widest,
        (room.height - RIM_MM.top - RIM_MM.bottom - (perColumn - 1) * gap) / Math.max(...deepest),
        1,
      );
      return { sheet, room, columns, perColumn, columnMm, scale };
    });
  });
  const best = fits.reduce((a, b) => (b.scale > a.scale * 1.02 ? b : a));
  const { sheet, room, perColumn, columnMm, scale } = best;
  const drawings: Drawing[] = [];
  let bottom = 0;
  const columns: Fragment[] = [];
  for (let from = 0, column = 0; from < stocked.length; from += perColumn, column++) {
    const part = stocked.slice(from, from + perColumn);
    let top = RIM_MM.top;
    const boxes = part.map((shelf) => {
      const extent = extents.get(shelf) ?? shelf;
      const box = {
        left: column * columnMm + (columnMm - extent.widthMm * scale) / 2,
        top,
        width: extent.widthMm * scale,
        height: extent.depthMm * scale,
      };
      const drawn = drawShelf(job, shelf, shown, box, scale);
      drawings.push(drawn);
      columns.push(drawn.svg, svgText(box.left, top - 2, NAME_MM, `Shelf ${shelf.number}`, BOLD));
      top += box.height + gap;
      return box;
    });
    const [first, last] = [boxes[0], boxes.at(-1)];
    if (!first || !last) continue;
    const height = last.top + last.height - first.top;
    bottom = Math.max(bottom, last.top + last.height);
    columns.push(
      nameSides({ left: first.left, top: first.top, width: first.width, height }, job.behind),
    );
  }
  const chart = {
    heading: 'Planting chart, whole rack',
    width: room.width,
    height: bottom + RIM_MM.bottom,
    svg: [columns, scaleText(room.width, RIM_MM.top - 2.6, scale)],
  };
  return [chartPage(job, sheet, chart, together(drawings))];
}

function scaleText(x: number, y: number, scale: number): Html {
  return svgText(x, y, ptToMm(8), `drawn 1 : ${fixed(1 / scale, 1)}`, AT_END);
}

function drawShelf(
  job: ChartJob,
  shelf: Shelf,
  shown: ShownPots,
  box: PageBox,
  scale: number,
): Drawing {
  const at = placing(extentOfShelf(shelf), { x: box.left, y: box.top }, scale, job.behind);
  const marks = Math.max(1, ...job.shown.treatments.map(({ mark }) => mark.length));
  const drawings: Drawing[] = [];
  const parts = shelf.trays.map((tray) => {
    const tooSmall =
      job.shown.treatments.length > 0 &&
      letterSizeMm(shelf, tray, scale, marks) < SMALLEST_LETTER_MM;
    if (tray.grid && !tooSmall) {
      const beside = roomBeside(shelf, tray, job.behind, scale);
      const drawing = drawPots(shelf, tray, moved(at, tray.xMm, tray.yMm), {
        shown,
        part: null,
        headings: {
          rows: beside.left >= HEADING_ROOM_MM,
          columns: beside.below >= HEADING_ROOM_MM,
          rowTicks: false,
        },
      });
      drawings.push(drawing);
      return [trayOutline(tray, at), drawing.svg, trayName(shelf, tray, at, beside.above)];
    }
    return [trayOutline(tray, at), namedOnly(shelf, tray, at)];
  });
  const whole = { ...shelf, xMm: 0, yMm: 0 };
  const board = boxOf(whole, at);
  const rim = html`<rect x="${mm(board.left)}" y="${mm(board.top)}" width="${mm(board.width)}" height="${mm(board.height)}" fill="none" stroke="#777" stroke-width=".25"/>`;
  return { ...together(drawings), svg: [rim, drawBoards(shelf, at, whole), parts] };
}

function together(drawings: readonly Drawing[]): Drawing {
  const counts = new Map<ShownTreatment, number>();
  for (const [treatment, count] of drawings.flatMap((drawing) => [...drawing.counts])) {
    counts.set(treatment, (counts.get(treatment) ?? 0) + count);
  }
  const signs = new Set<Sign>(drawings.flatMap((drawing) => [...drawing.signs]));
  return { svg: drawings.map(({ svg }) => svg), signs, counts };
}

function trayOutline(tray: Tray, at: Placing): Html {
  const { left, top, width, height } = boxOf(tray, at);
  return html`<rect x="${mm(left)}" y="${mm(top)}" width="${mm(width)}" height="${mm(height)}" fill="none" stroke="#000" stroke-width=".4"/>`;
}

/** The tray's code above it, or on its upper side where there is no room above. */
function trayName(shelf: Shelf, tray: Tray, at: Placing, above: number): Fragment {
  const box = boxOf(tray, at);
  const code = trayCode(shelf.number, tray.letter);
  const middle = box.left + box.width / 2;
  if (above >= 4) return textAt(middle, box.top - 0.9, NAME_MM, code, 700);
  return [
    html`<rect x="${mm(middle - 4)}" y="${mm(box.top - 2)}" width="8" height="4" fill="#fff" stroke="#000" stroke-width=".25"/>`,
    textAt(middle, box.top + 1.25, ptToMm(9), code, 700),
  ];
}

/** A tray whose letters could not be read at this scale, or that holds no pots. */
function namedOnly(shelf: Shelf, tray: Tray, at: Placing): Fragment {
  const box = boxOf(tray, at);
  const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
  const code = trayCode(shelf.number, tray.letter);
  const words = tray.grid ? 'see its own chart' : 'no pots';
  return [
    textAt(x, y, ptToMm(14), code, 700),
    box.width > 28 && box.height > 12 && textAt(x, y + 4.5, ptToMm(9), words),
  ];
}

/** Room on the page between a tray and what stands next to it, mm. */
function roomBeside(
  shelf: Shelf,
  tray: Tray,
  behind: boolean,
  scale: number,
): { left: number; below: number; above: number } {
  const others = shelf.trays.filter((other) => other !== tray);
  const crossesY = (o: Tray) => o.yMm < tray.yMm + tray.depthMm && tray.yMm < o.yMm + o.depthMm;
  const crossesX = (o: Tray) => o.xMm < tray.xMm + tray.widthMm && tray.xMm < o.xMm + o.widthMm;
  const nearest = (gaps: number[], rim: number) =>
    Math.min(...gaps.filter((gap) => gap >= -1e-6).map((gap) => gap * scale), rim);
  const left = nearest(
    others.filter(crossesY).map((o) => tray.xMm - (o.xMm + o.widthMm)),
    Infinity,
  );
  const right = nearest(
    others.filter(crossesY).map((o) => o.xMm - (tray.xMm + tray.widthMm)),
    Infinity,
  );
  const front = nearest(
    others.filter(crossesX).map((o) => tray.yMm - (o.yMm + o.depthMm)),
    Infinity,
  );
  const back = nearest(
    others.filter(crossesX).map((o) => o.yMm - (tray.yMm + tray.depthMm)),
    Infinity,
  );
  return behind ? { left: right, below: back, above: front } : { left, below: front, above: back };
}
