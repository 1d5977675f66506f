import { RULER, type Page } from '../document';
import type { Frame } from '../frame';
import { html, type Fragment, type Html } from '../html';
import type { PrintOptions } from '../options';
import { paperMm, SAFE_MM } from '../paper';
import { AT_END, BOLD, svgText } from '../svg';
import { mm, ptToMm, wrapText } from '../text';
import { bareLength, cellAt, geometryProblem, smallLength } from './geometry';
import { cellOutline, labelPage } from './sheet';
import { Refusal, trimmed, type UnitSystem } from '../../words';

const words = (lengths: UnitSystem) => [
  'Print this page on plain paper, at 100 % or “actual size”, by the printer that prints the labels.',
  `1. Measure the two bars. They should be ${RULER[lengths].words} long. If they are not, the printer scales: type what you measured as “bar across” and “bar down”, and print this page again. The bars themselves are never corrected.`,
  `2. Lay the page on a sheet of labels and hold both against the light. The lines should meet the edges of the labels. Where they do not, read on the two scales how far the label lies from the middle of the cross. A mark is ${smallLength(SCALES[lengths].stepMm, lengths)}. Type those figures, in ${SCALES[lengths].unit}, as the shift: to the right and down are positive.`,
];

/** The scales of a cross: marks to each side, and what they are called. Read in the typed unit. */
const SCALES: Record<UnitSystem, { stepMm: number; unit: string }> = {
  metric: { stepMm: 1, unit: 'mm' },
  imperial: { stepMm: 1.27, unit: 'inches' },
};
const MARKS = 5;

/** A page that shows how a printer scales and shifts: bars, and the outlines of the labels with scales. */
export function calibrationPage(frame: Frame, options: PrintOptions): Page[] {
  const { paper, printer } = options;
  const { geometry } = options.labels;
  const problem = geometryProblem(geometry, paper, frame.lengths);
  if (problem !== null) throw new Refusal(problem);
  const count = geometry.columns * geometry.rows;
  const cells = Array.from({ length: count }, (_, i) => cellAt(geometry, i));
  const outlines = cells.map((cell) =>
    cellOutline(geometry, cell, paper, html`stroke="#000" stroke-width=".2"`),
  );
  const middleOf = (cell: { x: number; y: number } | undefined) => ({
    x: (cell?.x ?? 0) + geometry.widthMm / 2,
    y: (cell?.y ?? 0) + geometry.heightMm / 2,
  });
  const corners = [cells[0], cells.at(-1)].map((cell) =>
    cross(middleOf(cell), SCALES[frame.lengths].stepMm),
  );
  const shifted = html`<g transform="translate(${mm(printer.shiftXMm)} ${mm(printer.shiftYMm)})">${outlines}${corners}</g>`;
  return [labelPage(paper, 'Label calibration', () => [shifted, notice(frame, options)])];
}

/** `98.5 %` */
const percent = (share: number): string => `${trimmed(100 * share, 2)} %`;

/** A cross with marks on either side, those at its ends longer. */
function cross(at: { x: number; y: number }, stepMm: number): Html {
  const reach = MARKS * stepMm;
  const marks = Array.from({ length: 2 * MARKS + 1 }, (_, i) => {
    const [d, half] = [(i - MARKS) * stepMm, i % MARKS === 0 ? 1.2 : 0.7];
    return `M${mm(at.x + d)},${mm(at.y - half)}v${2 * half}M${mm(at.x - half)},${mm(at.y + d)}h${2 * half}`;
  });
  return html`<path d="M${mm(at.x - reach)},${mm(at.y)}h${mm(2 * reach)}M${mm(at.x)},${mm(at.y - reach)}v${mm(2 * reach)}${marks.join('')}" fill="none" stroke="#000" stroke-width=".15"/>`;
}

function notice(frame: Frame, { paper, labels, printer }: PrintOptions): Fragment {
  const { width, height } = paperMm[paper];
  const size = ptToMm(9);
  const boxWidth = 134;
  const textMm = boxWidth - 20;
  const { columns, rows, widthMm, heightMm } = labels.geometry;
  const { lengths } = frame;
  const ruler = RULER[lengths];
  const sizes = `${bareLength(widthMm, lengths)} × ${smallLength(heightMm, lengths)}`;
  const [right, lower] = [printer.shiftXMm, printer.shiftYMm].map((by) => smallLength(by, lengths));
  const lines = [
    ...wrapText(frame.title, size, textMm, 2),
    ...wrapText(frame.origin, size, textMm, 3),
    `${paper}, ${columns} × ${rows} labels of ${sizes}`,
    `Corrected now: scale ${percent(printer.scaleX)} across, ${percent(printer.scaleY)} down; shift ${right ?? ''} right, ${lower ?? ''} down`,
    '',
    ...words(lengths).flatMap((text) => [...wrapText(text, size, textMm), '']),
  ];
  const boxHeight = Math.max(lines.length * 4 + 26, ruler.mm + 30);
  const x = (width - boxWidth) / 2;
  const y = Math.max(SAFE_MM, (height - boxHeight) / 2);
  const text = lines.map((line, i) => line && svgText(x + 4, y + 15 + i * 4, size, line));
  // The page is drawn larger or smaller for the printer; the bars alone are not.
  const [across, down] = [ruler.mm * printer.scaleX, ruler.mm * printer.scaleY].map(mm);
  const bars = `M${mm(x + 6)},${mm(y + boxHeight - 9)}v4m0,-2h${across ?? ''}m0,-2v4M${mm(x + boxWidth - 10)},${mm(y + 13)}h4m-2,0v${down ?? ''}m-2,0h4`;
  return [
    html`<rect x="${mm(x)}" y="${mm(y)}" width="${boxWidth}" height="${mm(boxHeight)}" rx="2" fill="#fff" stroke="#000" stroke-width=".4"/>`,
    svgText(x + 4, y + 8.5, ptToMm(14), 'Label calibration', BOLD),
    svgText(x + boxWidth - 4, y + 8, size, 'Page 1 of 1', AT_END),
    text,
    html`<path d="${bars}" fill="none" stroke="#000" stroke-width=".25"/>`,
  ];
}
