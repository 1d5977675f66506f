import type { Shelf } from '../../../shared-types/rack';
import type { Page } from '../document';
import type { Fragment } from '../html';
import type { Paper, Sheet } from '../paper';
import { AT_END, BOLD, svgText } from '../svg';
import { ptToMm } from '../text';
import { chartPage, chartRoom, pageOf, type ChartJob } from './chartPage';
import { drawShelf, NAME_MM, underOneKey, type ShownPots } from './drawShelf';
import { extentOfShelf } from './extent';
import type { Drawing } from './pots';
import { nameSides, RIM_ACROSS_MM, RIM_DOWN_MM, RIM_MM } from './sides';
import { fixed } from '../../words';

/** A whole shelf with its trays where they stand, seen from above. */
export function shelfPage(job: ChartJob, paper: Paper, shelf: Shelf, shown: ShownPots): Page[] {
  if (!shelf.trays.some((tray) => tray.grid)) return [];
  const extent = extentOfShelf(shelf);
  const fits = [false, true].map((wide) => {
    const sheet: Sheet = { paper, wide };
    const room = chartRoom(job, sheet);
    const scale = Math.min(
      (room.width - RIM_ACROSS_MM) / extent.widthMm,
      (room.height - RIM_DOWN_MM) / extent.depthMm,
      1,
    );
    return { sheet, room, scale };
  });
  const best = fits.reduce((a, b) => (b.scale > a.scale ? b : a));
  const { sheet, room, scale } = best;
  const heading = `Planting chart, shelf ${shelf.number}`;
  return [
    pageOf(sheet, heading, () => drawnShelf({ job, shelf, shown, sheet, room, scale, heading })),
  ];
}

function drawnShelf(given: {
  job: ChartJob;
  shelf: Shelf;
  shown: ShownPots;
  sheet: Sheet;
  room: { width: number };
  scale: number;
  heading: string;
}): Page {
  const { job, shelf, shown, sheet, room, scale, heading } = given;
  const extent = extentOfShelf(shelf);
  const box = {
    left: RIM_MM.left + (room.width - RIM_ACROSS_MM - extent.widthMm * scale) / 2,
    top: RIM_MM.top,
    width: extent.widthMm * scale,
    height: extent.depthMm * scale,
  };
  const drawn = drawShelf(job, shelf, shown, box, scale);
  const chart = {
    heading,
    width: room.width,
    height: box.top + box.height + RIM_MM.bottom,
    svg: [
      drawn.svg,
      nameSides(box, job.behind),
      svgText(room.width, box.top - 2.6, ptToMm(8), scaleWords(scale), AT_END),
    ],
  };
  return chartPage(job, sheet, chart, drawn);
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
  const { sheet, room, perColumn, columnMm, scale } = bestColumns(job, paper, stocked);
  const columns = Array.from({ length: Math.ceil(stocked.length / perColumn) }, (_, c) =>
    drawColumn(job, stocked.slice(c * perColumn, (c + 1) * perColumn), shown, {
      leftMm: c * columnMm,
      columnMm,
      scale,
    }),
  );
  const chart = {
    heading: `Planting chart, whole rack, ${scaleWords(scale)}`,
    width: room.width,
    height: Math.max(...columns.map(({ bottomMm }) => bottomMm)) + RIM_MM.bottom,
    svg: columns.map(({ svg }) => svg),
  };
  const drawn = underOneKey(columns.flatMap(({ drawings }) => drawings));
  return [chartPage(job, sheet, chart, drawn)];
}

/** Between shelves one above the other, mm. */
const SHELF_GAP_MM = 9;

/** The way to lay the paper and to stack shelves in columns that shows them largest. */
function bestColumns(job: ChartJob, paper: Paper, shelves: readonly Shelf[]) {
  const extents = shelves.map(extentOfShelf);
  const widest = Math.max(...extents.map((extent) => extent.widthMm));
  const fits = [false, true].flatMap((wide) => {
    const sheet: Sheet = { paper, wide };
    const room = chartRoom(job, sheet);
    return [1, 2, 3, 4].map((columns) => {
      const perColumn = Math.ceil(shelves.length / columns);
      const deepest = Array.from({ length: columns }, (_, c) =>
        extents
          .slice(c * perColumn, (c + 1) * perColumn)
          .reduce((sum, extent) => sum + extent.depthMm, 0),
      );
      const columnMm = room.width / columns;
      const gaps = (perColumn - 1) * SHELF_GAP_MM;
      const scale = Math.min(
        (columnMm - RIM_ACROSS_MM) / widest,
        (room.height - RIM_DOWN_MM - gaps) / Math.max(...deepest),
        1,
      );
      return { sheet, room, perColumn, columnMm, scale };
    });
  });
  // A little larger is not worth another column.
  return fits.reduce((a, b) => (b.scale > a.scale * 1.02 ? b : a));
}

/** Shelves one above the other, with the sides of the rack named around them. */
function drawColumn(
  job: ChartJob,
  shelves: readonly Shelf[],
  shown: ShownPots,
  { leftMm, columnMm, scale }: { leftMm: number; columnMm: number; scale: number },
): { svg: Fragment; drawings: Drawing[]; bottomMm: number } {
  const drawings: Drawing[] = [];
  const names: Fragment[] = [];
  let top = RIM_MM.top;
  const boxes = shelves.map((shelf) => {
    const extent = extentOfShelf(shelf);
    const width = extent.widthMm * scale;
    const box = {
      left: leftMm + RIM_MM.left + (columnMm - RIM_ACROSS_MM - width) / 2,
      top,
      width,
      height: extent.depthMm * scale,
    };
    const drawn = drawShelf(job, shelf, shown, box, scale);
    drawings.push(drawn);
    names.push(drawn.svg, svgText(box.left, top - 2, NAME_MM, `Shelf ${shelf.number}`, BOLD));
    top += box.height + SHELF_GAP_MM;
    return box;
  });
  const bottomMm = top - SHELF_GAP_MM;
  const [first] = boxes;
  const sides = first ? nameSides({ ...first, height: bottomMm - first.top }, job.behind) : null;
  return { svg: [names, sides], drawings, bottomMm };
}

const scaleWords = (scale: number): string => `drawn 1 : ${fixed(1 / scale, 1)}`;
