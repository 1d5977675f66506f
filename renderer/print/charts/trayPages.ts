import type { Shelf, Tray } from '../../../shared-types/rack';
import { letterOf, trayCode } from '../../engine/geometry';
import type { Page } from '../document';
import type { Paper, Sheet } from '../paper';
import type { ShownPot } from '../shown';
import { ptToMm } from '../text';
import { chartRoom, type ChartJob } from './chartPage';
import { extentOfTray } from './extent';
import { piecePage, piecesFor } from './piecePage';
import type { Piece } from './pieces';
import { letterSizeMm } from './pots';
import { RIM_ACROSS_MM, RIM_DOWN_MM } from './sides';

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

/** The way to lay the paper that shows the tray largest, never above true size. */
function bestFit(
  job: ChartJob,
  paper: Paper,
  shelf: Shelf,
  tray: Tray,
): { sheet: Sheet; scale: number } {
  const extent = extentOfTray(shelf, tray);
  const fits = [false, true].map((wide) => {
    const sheet: Sheet = { paper, wide };
    const room = chartRoom(job, sheet);
    const scale = Math.min(
      (room.width - RIM_ACROSS_MM) / extent.widthMm,
      (room.height - RIM_DOWN_MM) / extent.depthMm,
      1,
    );
    return { sheet, scale };
  });
  const [tall, wide] = fits;
  if (!tall || !wide) throw new TypeError('there are two ways to lay a sheet');
  return wide.scale > tall.scale ? wide : tall;
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
