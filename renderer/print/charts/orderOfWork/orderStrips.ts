import { letterOf, type Pot } from '../../../engine/geometry';
import { html, type Fragment } from '../../html';
import type { ShownPot, ShownTreatment } from '../../shown';
import { signingLine } from '../../signing';
import { AT_END, BOLD, svgText } from '../../svg';
import { fitEnd, mm, ptToMm, textWidthMm, wrapText } from '../../text';
import { treatmentMark } from '../../treatmentMark';
import type { ChartJob } from '../chartPage';
import { tickBox } from '../key';

const LETTER_MM = ptToMm(12);
const TEXT_MM = ptToMm(10);
const SMALL_MM = ptToMm(8);
const FETCH_MM = 9;
const ROW_HEAD_MM = 15;
const CHIP_MM = 12;
/** Holds a mark, a box of 5 mm and the column's number below it. */
const LEAST_CHIP_MM = 14.5;
const BOX_MM = 5;
const MOST_CHIP_MM = 22;
const TALL_CHIP_MM = 15.5;

/** A piece of the list that is not broken over pages. */
export interface WorkStrip {
  heightMm: number;
  /** Kept together with the strip after it. */
  head: boolean;
  /** Code of its tray; '' for the whole rack. */
  tray: string;
  draw: (y: number) => Fragment;
}

/** Air under a strip that may go where it saves a page, mm. */
const AIR_MM = 0.9;

/** The strip with less air under it. */
export const closer = (strip: WorkStrip): WorkStrip => ({
  ...strip,
  heightMm: strip.heightMm - AIR_MM,
});

/** How many of each treatment to fetch for a tray, or for the whole rack where `tray` is empty. */
export function fetchStrips(
  job: ChartJob,
  tray: string,
  pots: readonly Pot[],
  shown: ReadonlyMap<string, ShownPot>,
  width: number,
): WorkStrip[] {
  const items = fetched(job, pots, shown);
  const words = tray === '' ? 'For the whole rack fetch' : `Tray ${tray}: fetch`;
  const total = `${words} ${pots.length} ${pots.length === 1 ? 'pot' : 'pots'}${items.length > 0 ? ':' : ''}`;
  const title: WorkStrip = {
    heightMm: 9,
    head: true,
    tray,
    draw: (y) => [
      html`<path d="M0,${mm(y + 1.5)}H${mm(width)}" stroke="#000" stroke-width=".4"/>`,
      svgText(0, y + 7, LETTER_MM, total, BOLD),
      tray !== '' && signingLine(width - 102, y + 1),
    ],
  };
  const longest = Math.max(
    0,
    ...items.map(({ treatment }) => textWidthMm(treatment.name, TEXT_MM)),
  );
  const columns = Math.max(1, Math.min(6, Math.floor(width / (longest + 32))));
  const rows: WorkStrip[] = [];
  for (let from = 0; from < items.length; from += columns) {
    const row = fetchRow(items.slice(from, from + columns), width / columns);
    rows.push({ ...row, head: true, tray });
  }
  return [title, ...rows];
}

interface Fetched {
  treatment: ShownTreatment;
  count: number;
}

/** How many pots of each treatment, in the order of the key. */
function fetched(
  job: ChartJob,
  pots: readonly Pot[],
  shown: ReadonlyMap<string, ShownPot>,
): Fetched[] {
  const counts = new Map<ShownTreatment, number>();
  for (const pot of pots) {
    const treatment = shown.get(pot.id)?.treatment;
    if (treatment) counts.set(treatment, (counts.get(treatment) ?? 0) + 1);
  }
  return job.shown.treatments.flatMap((treatment) => {
    const count = counts.get(treatment);
    return count === undefined ? [] : [{ treatment, count }];
  });
}

/** Treatments beside each other: tick box, count, mark and name of each. */
function fetchRow(
  items: readonly Fetched[],
  columnMm: number,
): Pick<WorkStrip, 'heightMm' | 'draw'> {
  const row = items.map((item) => ({
    ...item,
    lines: wrapText(item.treatment.name, TEXT_MM, columnMm - 30, 3),
  }));
  const most = Math.max(...row.map(({ lines }) => lines.length));
  const heightMm = Math.max(FETCH_MM, most * 4.2 + 2);
  return {
    heightMm,
    draw: (y) =>
      row.map(({ treatment, count, lines }, i) => {
        const [x, middle] = [i * columnMm, y + heightMm / 2];
        const first = middle - ((lines.length - 1) * 4.2) / 2 + TEXT_MM * 0.36;
        return [
          tickBox(x + 0.2, middle - BOX_MM / 2, BOX_MM),
          svgText(x + 15, middle + LETTER_MM * 0.36, LETTER_MM, count, html`${BOLD} ${AT_END}`),
          treatmentMark(treatment, { x: x + 21, y: middle, radius: 4.1 }),
          lines.map((line, n) => svgText(x + 27, first + n * 4.2, TEXT_MM, line)),
        ];
      }),
  };
}

/** Rows of a tray: an arrow for the way the hand goes, then the row's pots with tick boxes. */
export function rowStrips(
  tray: string,
  rows: readonly (readonly Pot[])[],
  shown: ReadonlyMap<string, ShownPot>,
  width: number,
): WorkStrip[] {
  const planted = rows.some((row) => row.some((pot) => shown.get(pot.id)?.plant));
  const height = planted ? TALL_CHIP_MM : CHIP_MM;
  const perLine = Math.max(1, Math.floor((width - ROW_HEAD_MM) / LEAST_CHIP_MM));
  const longest = Math.max(...rows.map((row) => Math.min(row.length, perLine)));
  // Short rows stand side by side.
  const beside = Math.max(1, Math.floor(width / (ROW_HEAD_MM + longest * LEAST_CHIP_MM)));
  const pieceMm = width / beside;
  const chipMm = Math.min(MOST_CHIP_MM, (pieceMm - ROW_HEAD_MM - 3) / longest);
  const pieces = rows.flatMap((row) =>
    Array.from({ length: Math.ceil(row.length / perLine) }, (_, i) =>
      row.slice(i * perLine, (i + 1) * perLine),
    ),
  );
  const strips: WorkStrip[] = [];
  for (let from = 0; from < pieces.length; from += beside) {
    const line = pieces.slice(from, from + beside);
    strips.push({
      heightMm: height + 1.4,
      head: false,
      tray,
      draw: (y) =>
        line.map((row, p) => [
          row[0] ? rowHead(row[0], p * pieceMm, y + height / 2) : null,
          row.map((pot, i) => {
            const x = p * pieceMm + ROW_HEAD_MM + i * chipMm;
            return chip(pot, shown.get(pot.id), { x, y, width: chipMm - 0.8, height });
          }),
        ]),
    });
  }
  return strips;
}

function rowHead(pot: Pot, x: number, y: number): Fragment {
  const rightwards = pot.row % 2 === 1;
  const [from, to] = rightwards ? [x + 7.5, x + 13.5] : [x + 13.5, x + 7.5];
  const barb = rightwards ? -1.6 : 1.6;
  return [
    svgText(x, y + LETTER_MM * 0.36, LETTER_MM, letterOf(pot.row), BOLD),
    html`<path d="M${mm(from)},${mm(y)}H${mm(to)}m${barb},-1.6L${mm(to)},${mm(y)}l${barb},1.6" fill="none" stroke="#000" stroke-width=".5"/>`,
  ];
}

function chip(
  pot: Pot,
  place: ShownPot | undefined,
  box: { x: number; y: number; width: number; height: number },
): Fragment {
  const { x, y, width, height } = box;
  const rim = html`<rect x="${mm(x)}" y="${mm(y)}" width="${mm(width)}" height="${mm(height)}" rx=".8" fill="none" stroke="#777" stroke-width=".2"/>`;
  const discY = y + CHIP_MM / 2;
  const plant = place?.plant && fitEnd(place.plant, SMALL_MM, width - 2);
  return [
    rim,
    place?.treatment ? treatmentMark(place.treatment, { x: x + 4, y: discY, radius: 3.6 }) : null,
    tickBox(x + width - BOX_MM - 0.5, y + 0.7, BOX_MM),
    svgText(x + width - 0.6, y + CHIP_MM - 1.4, LETTER_MM, pot.column, AT_END),
    plant ? svgText(x + 1, y + height - 1.2, SMALL_MM, plant) : null,
  ];
}
