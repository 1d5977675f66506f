import type { Page } from '../document';
import type { Frame } from '../frame';
import { html, type Fragment, type Html } from '../html';
import { paperMm, SAFE_MM, type Paper } from '../paper';
import { AT_END, svgDrawing, svgText } from '../svg';
import { fitText, mm, ptToMm, textWidthMm, wrapText } from '../text';
import { printableInset, type LabelPlace, type Inset, type LabelGeometry } from './geometry';

const LINE_MM = ptToMm(6.5);
/** A margin of the sheet that is at least this high holds a line of its own. */
const MARGIN_FOR_LINE_MM = SAFE_MM + LINE_MM * 1.25;

/** Labels of at least this field have room for three lines above all that they say, mm. */
const FIELD_FOR_LINE_MM = { width: 30, height: 22 };

/**
 * Where title, origin and page number stand: in the upper margin, in lines above the first labels
 * where the margin is too low, or in a cell of their own where the labels are too small for that.
 */
export function originPlace(geometry: LabelGeometry, paper: Paper): 'margin' | 'labels' | 'cell' {
  if (geometry.topMm >= MARGIN_FOR_LINE_MM) return 'margin';
  const { width, height } = printableInset(geometry, paper);
  const roomy = width >= FIELD_FOR_LINE_MM.width && height >= FIELD_FOR_LINE_MM.height;
  return geometry.shape === 'rectangle' && roomy ? 'labels' : 'cell';
}

/** Labels that a whole sheet gives. */
export function labelsPerSheet(geometry: LabelGeometry, paper: Paper): number {
  const cells = geometry.columns * geometry.rows;
  return originPlace(geometry, paper) === 'cell' ? cells - 1 : cells;
}

/** Height of a line above what a label says, mm. */
export const ABOVE_LINE_MM = LINE_MM * 1.15;

/** Lines to stand above the first labels of a page, a list a label: heading, title, origin. */
export function linesAbove(
  frame: Frame,
  heading: string,
  page: string,
  width: number,
  labels: number,
): string[][] {
  const head = fitText(`${page}, ${heading}`, LINE_MM, width);
  const title = fitText(frame.title, LINE_MM, width);
  const origin = fitOrigin(frame.origin, LINE_MM, width);
  if (labels >= 3) return [[head], [title], [origin]];
  return labels === 2 ? [[head], [title, origin]] : [[head, title, origin]];
}

/** Lines from an upper left corner down. */
export function lineText(lines: readonly string[], x: number, y: number): Fragment {
  return lines.map((line, i) => svgText(x, y + (i + 0.85) * ABOVE_LINE_MM, LINE_MM, line));
}

/** A very long seed is cut, its beginning kept, and the date whole. */
function fitOrigin(origin: string, size: number, room: number): string {
  if (textWidthMm(origin, size) <= room) return origin;
  const cut = origin.lastIndexOf(', drawn');
  if (cut < 0) return fitText(origin, size, room);
  const [seed, date] = [origin.slice(0, cut), origin.slice(cut)];
  return fitText(seed, size, room - textWidthMm(date, size)) + date;
}

/** A whole page from what is drawn on it in mm. */
export function labelPage(paper: Paper, heading: string, draw: () => Fragment): Page {
  return {
    sheet: { paper, wide: false },
    heading,
    whole: true,
    body: () => svgDrawing(paperMm[paper], heading, draw()),
  };
}

/** The line in the upper margin: heading, title, origin, page. */
export function marginLine(
  frame: Frame,
  paper: Paper,
  geometry: LabelGeometry,
  heading: string,
  page: string,
): Fragment {
  const { width } = paperMm[paper];
  const left = 9;
  const y = Math.max(SAFE_MM + LINE_MM * 0.95, geometry.topMm / 2 + LINE_MM * 0.36);
  const room = width - 2 * left - textWidthMm(page, LINE_MM) - 4;
  const words = originFirst(frame, heading, LINE_MM, room);
  return [svgText(left, y, LINE_MM, words), svgText(width - left, y, LINE_MM, page, AT_END)];
}

/** Seed and date are kept whole; the title gives way. */
function originFirst(frame: Frame, heading: string, size: number, room: number): string {
  const tail = ` – ${frame.origin}`;
  const most = room - textWidthMm(tail, size);
  if (most < 20) {
    const title = fitText(frame.title, size, room / 3);
    return `${title} – ${fitOrigin(frame.origin, size, room - textWidthMm(`${title} – `, size))}`;
  }
  return fitText(`${heading} – ${frame.title}`, size, most) + tail;
}

/** Title, origin and page number in a cell of their own. */
export function originCell(
  frame: Frame,
  cell: LabelPlace,
  inset: Inset,
  heading: string,
  page: string,
): Fragment {
  const size = ptToMm(7);
  const lineMm = size * 1.15;
  const rows = Math.max(2, Math.floor(inset.height / lineMm));
  const head = wrapText(`${heading}, ${page.toLowerCase()}`, size, inset.width, 2);
  const origin = wrapText(frame.origin, size, inset.width, Math.max(1, rows - head.length - 1));
  const title = wrapText(
    frame.title,
    size,
    inset.width,
    Math.max(1, rows - head.length - origin.length),
  );
  return [...head, ...title, ...origin]
    .slice(0, rows)
    .map((line, i) =>
      svgText(cell.x + inset.x, cell.y + inset.y + (i + 0.85) * lineMm, size, line),
    );
}

/** Lines around the labels, kept clear of what no printer reaches. */
export function cellOutline(
  geometry: LabelGeometry,
  cell: LabelPlace,
  paper: Paper,
  style: Html,
): Fragment {
  const { widthMm, heightMm } = geometry;
  if (geometry.shape === 'round') {
    const r = Math.min(widthMm, heightMm) / 2;
    return html`<circle cx="${mm(cell.x + widthMm / 2)}" cy="${mm(cell.y + heightMm / 2)}" r="${mm(r)}" fill="none" ${style}/>`;
  }
  const { width, height } = paperMm[paper];
  const safe = SAFE_MM + 0.2;
  const lines = [
    [cell.x, cell.y, cell.x + widthMm, cell.y],
    [cell.x, cell.y + heightMm, cell.x + widthMm, cell.y + heightMm],
    [cell.x, cell.y, cell.x, cell.y + heightMm],
    [cell.x + widthMm, cell.y, cell.x + widthMm, cell.y + heightMm],
  ] as const;
  return lines.flatMap(([x1, y1, x2, y2]) => {
    const within = (v: number, most: number) => Math.min(most - safe, Math.max(safe, v));
    const ends = [within(x1, width), within(y1, height), within(x2, width), within(y2, height)];
    // A line along the very edge is the paper's own.
    if (x1 === x2 ? ends[0] !== x1 : ends[1] !== y1) return [];
    const [a = 0, b = 0, c = 0, d = 0] = ends;
    return [html`<path d="M${mm(a)},${mm(b)}L${mm(c)},${mm(d)}" fill="none" ${style}/>`];
  });
}
