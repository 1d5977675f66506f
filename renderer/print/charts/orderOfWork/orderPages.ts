import type { Rack } from '../../../../shared-types/rack';
import { findTray, trayCode, type Pot } from '../../../engine/geometry';
import type { Page } from '../../document';
import { bodyMm } from '../../frame';
import type { Paper, Sheet } from '../../paper';
import type { ShownPot } from '../../shown';
import { svgDrawing } from '../../svg';
import type { ChartJob } from '../chartPage';
import { closer, fetchStrips, rowStrips, type WorkStrip } from './orderStrips';

/**
 * The work in order: for every tray what to fetch, then every pot in walking order, row by row from
 * the front, every second row backwards.
 */
export function orderPages(
  job: ChartJob,
  paper: Paper,
  rack: Rack,
  pots: readonly Pot[],
  shown: ReadonlyMap<string, ShownPot>,
): Page[] {
  if (pots.length === 0) return [];
  const sheet: Sheet = { paper, wide: false };
  const room = bodyMm(job.frame, sheet);
  const [loose, tight] = [false, true].map((isTight) =>
    pack(workStrips(job, rack, pots, shown, { width: room.width, tight: isTight }), room.height),
  );
  // A page more for a few rows is not worth the air between them.
  const pages = tight && loose && tight.length < loose.length ? tight : (loose ?? []);
  return pages.map((page) => {
    let y = 0;
    const parts = page.map((strip) => {
      const svg = strip.draw(y);
      y += strip.heightMm;
      return svg;
    });
    return {
      sheet,
      heading: `Order of work${traysOf(page)}`,
      body: () => svgDrawing({ width: room.width, height: y }, 'Order of work', parts),
    };
  });
}

function workStrips(
  job: ChartJob,
  rack: Rack,
  pots: readonly Pot[],
  shown: ReadonlyMap<string, ShownPot>,
  { width, tight }: { width: number; tight: boolean },
): WorkStrip[] {
  const strips: WorkStrip[] = [];
  const trays = grouped(pots, (pot) => pot.trayId);
  if (trays.length > 1) strips.push(...fetchStrips(job, '', pots, shown, width));
  for (const trayPots of trays) {
    const [first] = trayPots;
    const found = first && findTray(rack, first.trayId);
    if (!found) continue;
    const code = trayCode(found.shelf.number, found.tray.letter);
    strips.push(...fetchStrips(job, code, trayPots, shown, width));
    const rows = grouped(trayPots, (pot) => pot.row);
    strips.push(...rowStrips(code, rows, shown, width));
  }
  return tight ? strips.map(closer) : strips;
}

/** `, trays 1A, 1B`: what is on a page. */
function traysOf(page: readonly WorkStrip[]): string {
  const codes = [...new Set(page.map(({ tray }) => tray))].filter(Boolean);
  if (codes.length === 0) return '';
  return codes.length === 1 ? `, tray ${codes[0] ?? ''}` : `, trays ${codes.join(', ')}`;
}

function pack(strips: readonly WorkStrip[], heightMm: number): WorkStrip[][] {
  const pages: WorkStrip[][] = [[]];
  let used = 0;
  strips.forEach((strip, i) => {
    if (used > 0 && used + keptTogetherMm(strips, i, heightMm) > heightMm) {
      pages.push([]);
      used = 0;
    }
    pages.at(-1)?.push(strip);
    used += strip.heightMm;
  });
  return pages;
}

/** Height of a strip and of all that stays with it, as far as a page holds that. */
function keptTogetherMm(strips: readonly WorkStrip[], from: number, most: number): number {
  let height = 0;
  for (const strip of strips.slice(from)) {
    if (height + strip.heightMm > most) return strips[from]?.heightMm ?? 0;
    height += strip.heightMm;
    if (!strip.head) break;
  }
  return height;
}

function grouped(pots: readonly Pot[], key: (pot: Pot) => string | number): Pot[][] {
  const groups = new Map<string | number, Pot[]>();
  for (const pot of pots) {
    const group = groups.get(key(pot));
    if (group) group.push(pot);
    else groups.set(key(pot), [pot]);
  }
  return [...groups.values()];
}
