import type { Shelf, Tray } from '../../../shared-types/rack';
import { trayCode } from '../../engine/geometry';
import { html, type Fragment, type Html } from '../html';
import type { ShownPot, ShownTreatment } from '../shown';
import { mm, ptToMm } from '../text';
import { drawBoards } from './boards';
import type { ChartJob } from './chartPage';
import { extentOfShelf } from './extent';
import type { Sign } from './key';
import { drawDrain, drawLeads, withMarks } from './landmarks';
import { boxOf, moved, placing, type PageBox, type Placing } from './placing';
import { drawPots, letterSizeMm, type Drawing } from './pots';
import { textAt } from './textAt';

const SMALLEST_LETTER_MM = ptToMm(8);
export const NAME_MM = ptToMm(10);
/** Row letters and column numbers stand between trays where there is this much room, mm. */
const HEADING_ROOM_MM = 3.6;

export type ShownPots = ReadonlyMap<string, ShownPot>;

/** A shelf seen from above: its trays with their pots where their letters can be read, and boards. */
export function drawShelf(
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
  const landmarks = {
    board: drawBoards(shelf, at, whole),
    lead: drawLeads(shelf, job.lampKinds, whole, at),
    drain: shelf.trays.flatMap((tray) => {
      const part = { ...tray, xMm: 0, yMm: 0 };
      return drawDrain(tray, part, moved(at, tray.xMm, tray.yMm)) ?? [];
    }),
  };
  const { board: boards, ...others } = landmarks;
  const drawn = underOneKey(drawings);
  return {
    ...drawn,
    signs: withMarks(drawn.signs, landmarks),
    svg: [rim, boards, parts, Object.values(others)],
  };
}

/** What several drawings need of one key. */
export function underOneKey(drawings: readonly Drawing[]): Drawing {
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
