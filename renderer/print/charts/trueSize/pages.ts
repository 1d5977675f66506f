import type { Shelf, Tray } from '../../../../shared-types/rack';
import { baysOf, letterOf, potsOfTray, trayCode, widestPotMm } from '../../../engine/geometry';
import type { Page } from '../../document';
import { html, type Fragment } from '../../html';
import type { Paper, Sheet } from '../../paper';
import type { ShownPot } from '../../shown';
import { AT_END, BOLD, svgText } from '../../svg';
import { fitText, mm, ptToMm } from '../../text';
import { blocksToFit, type PotBlock } from './blocksToFit';
import { drawBoards } from '../boards';
import { chartPage, chartRoom, keyPages, type ChartJob } from '../chartPage';
import { NAME_MM, underOneKey } from '../drawShelf';
import { withMarks } from '../landmarks';
import { packed, type SheetPlace } from './packed';
import { holeKey } from '../pieces';
import { moved, placing } from '../placing';
import { drawPots, type Drawing } from '../pots';
import { nameSides, RIM_ACROSS_MM, RIM_DOWN_MM, RIM_MM } from '../sides';
import { list, say } from '../../../words';

export interface StandingTray {
  shelf: Shelf;
  tray: Tray;
}

interface TrayBlock extends StandingTray {
  block: PotBlock;
}

/** Room around a block for its row letters, its name and its column numbers, mm. */
const AROUND = { left: 5, right: 1, top: 5, bottom: 5.5 };
const OUTLINE = html`fill="none" stroke="#555" stroke-width=".25" stroke-dasharray="2 1.5"`;

/**
 * Trays at true size, in sheets that pots can be set on: blocks of whole pots, those of several trays
 * joined on a sheet where there is room. With their key, on every sheet where that costs no more paper.
 */
export function trueSizePages(
  job: ChartJob,
  paper: Paper,
  trays: readonly StandingTray[],
  shown: ReadonlyMap<string, ShownPot>,
): Page[] {
  const ways = [false, true].flatMap((keyApart) =>
    [false, true].flatMap((wide) =>
      // Rows out of step stand closer in blocks of one row.
      [Infinity, 1].map((rows) => sheetsFor({ ...job, keyApart }, { paper, wide }, trays, rows)),
    ),
  );
  // Sheets that hold more trays go before those that save paper.
  const best = ways.reduce((a, b) => {
    if (a.left.length !== b.left.length) return b.left.length < a.left.length ? b : a;
    return b.sheets + b.keys.length < a.sheets + a.keys.length ? b : a;
  });
  const pages = Array.from({ length: best.sheets }, (_, s) => {
    const on = best.blocks.flatMap((block, i) => {
      const stand = best.stands[i];
      return stand?.sheet === s ? [{ ...block, stand }] : [];
    });
    return sheetPage(best, on, shown, s + 1);
  });
  const withPots = best.left.filter(({ shelf, tray }) => potsOfTray(shelf, tray).length > 0);
  const tooLarge = withPots.map((standing) => tooLargePage(job, best.sheet, standing));
  return [...pages, ...tooLarge, ...(pages.length > 0 ? best.keys : [])];
}

/** How trays come out on sheets that lie so. */
interface Sheets {
  job: ChartJob;
  sheet: Sheet;
  page: { width: number; height: number };
  room: { width: number; height: number };
  blocks: TrayBlock[];
  stands: SheetPlace[];
  sheets: number;
  /** Trays with pots that no sheet holds. */
  left: StandingTray[];
  keys: Page[];
}

function sheetsFor(
  job: ChartJob,
  sheet: Sheet,
  trays: readonly StandingTray[],
  mostRows: number,
): Sheets {
  const page = chartRoom(job, sheet);
  const room = { width: page.width - RIM_ACROSS_MM, height: page.height - RIM_DOWN_MM };
  const blocks = trays.flatMap((standing) => blocksOfTray(standing, room, mostRows));
  const stands = packed(
    blocks.map(({ block }) => sizeOf(block)),
    room,
  );
  return {
    job,
    sheet,
    page,
    room,
    blocks,
    stands,
    sheets: 1 + Math.max(-1, ...stands.map((stand) => stand.sheet)),
    left: trays.filter(({ tray }) => !blocks.some((block) => block.tray === tray)),
    keys: keyPages(job, { ...sheet, wide: false }),
  };
}

function blocksOfTray(
  { shelf, tray }: StandingTray,
  room: { width: number; height: number },
  mostRows: number,
): TrayBlock[] {
  const { grid } = tray;
  if (!grid) return [];
  const stand = new Set(potsOfTray(shelf, tray).map(({ row, column }) => holeKey(row, column)));
  const within = {
    width: room.width - AROUND.left - AROUND.right,
    depth: room.height - AROUND.top - AROUND.bottom,
  };
  const stands = (row: number, column: number) => stand.has(holeKey(row, column));
  return blocksToFit(grid, widestPotMm(tray), within, stands, mostRows).map((block) => ({
    shelf,
    tray,
    block,
  }));
}

const sizeOf = ({ widthMm, depthMm }: PotBlock) => ({
  width: widthMm + AROUND.left + AROUND.right,
  height: depthMm + AROUND.top + AROUND.bottom,
});

function sheetPage(
  { job, sheet, page, room, sheets }: Sheets,
  blocks: readonly (TrayBlock & { stand: SheetPlace })[],
  shown: ReadonlyMap<string, ShownPot>,
  number: number,
): Page {
  const drawings = blocks.map((block, i) => drawBlock(job, block, shown, `ts${number}-${i}`));
  const bottoms = blocks.map(({ block, stand }) => stand.y + sizeOf(block).height);
  const height = Math.max(...bottoms);
  const box = { left: RIM_MM.left, top: RIM_MM.top, width: room.width, height };
  const codes = [...new Set(blocks.map(({ shelf, tray }) => trayCode(shelf.number, tray.letter)))];
  const chart = {
    heading: `True size, sheet ${number} of ${sheets}, ${codes.length === 1 ? 'tray' : 'trays'} ${list(codes)}`,
    width: page.width,
    height: box.top + height + RIM_MM.bottom,
    svg: [
      drawings.map(({ svg }) => svg),
      nameSides(box, job.behind),
      svgText(page.width, box.top - 2.6, ptToMm(8), 'true size, 1 : 1', AT_END),
    ],
  };
  return chartPage(job, sheet, chart, underOneKey(drawings));
}

function drawBlock(
  job: ChartJob,
  { shelf, tray, block, stand }: TrayBlock & { stand: SheetPlace },
  shown: ReadonlyMap<string, ShownPot>,
  id: string,
): Drawing {
  const corner = {
    x: RIM_MM.left + stand.x + AROUND.left,
    y: RIM_MM.top + stand.y + AROUND.top,
  };
  const at = placing(block, corner, 1, job.behind);
  const drawing = drawPots(shelf, tray, at, {
    shown,
    part: { piece: block, clipId: id },
    headings: { rows: true, columns: true, rowTicks: false },
  });
  const { first, last } = block;
  const hole = ({ row, column }: PotBlock['first']) => `${letterOf(row)}${column}`;
  const span = hole(first) === hole(last) ? hole(first) : `${hole(first)} to ${hole(last)}`;
  const frame = html`x="${mm(corner.x)}" y="${mm(corner.y)}" width="${mm(block.widthMm)}" height="${mm(block.depthMm)}"`;
  const name = [`${trayCode(shelf.number, tray.letter)}: ${span}`, ...baysWith(shelf, tray, block)];
  const board = drawBoards(shelf, moved(at, -tray.xMm, -tray.yMm), {
    ...block,
    xMm: block.xMm + tray.xMm,
    yMm: block.yMm + tray.yMm,
  });
  const svg: Fragment = [
    html`<clipPath id="${id}"><rect ${frame}/></clipPath><rect ${frame} ${OUTLINE}/>`,
    board,
    drawing.svg,
    svgText(
      corner.x,
      corner.y - 1.2,
      NAME_MM,
      fitText(name.join(', '), NAME_MM, block.widthMm, true),
      BOLD,
    ),
  ];
  return { ...drawing, signs: withMarks(drawing.signs, { board }), svg };
}

/** `bay 1 left`, where boards part the shelf: those that the block's pots stand in. */
function baysWith(shelf: Shelf, tray: Tray, block: PotBlock): string[] {
  const bays = baysOf(shelf);
  if (bays.length < 2) return [];
  const ids = new Set(
    potsOfTray(shelf, tray)
      .filter(({ row, column }) => block.holes.has(holeKey(row, column)))
      .map(({ bayId }) => bayId),
  );
  return bays.filter(({ id }) => ids.has(id)).map(({ name }) => `bay ${name}`);
}

/** Says which pots cannot be shown at true size, in place of their sheets. */
function tooLargePage(job: ChartJob, sheet: Sheet, { shelf, tray }: StandingTray): Page {
  const codes = potsOfTray(shelf, tray).map((pot) => pot.code);
  const size = say('length', job.frame.lengths, widestPotMm(tray));
  const text = [
    `Pots of ${size} are wider than the room on ${sheet.paper}. Use the chart of the whole tray.`,
    `Not shown at true size: ${codes.join(', ')}.`,
  ];
  const heading = `True size, tray ${trayCode(shelf.number, tray.letter)}`;
  return { sheet, heading, body: () => text.map((words) => html`<p>${words}</p>`) };
}
