import { html, type Fragment } from '../html';
import { BOLD, svgText } from '../svg';
import { fitEnd, mm, ptToMm, textWidthMm, wrapText } from '../text';
import { treatmentMark } from '../treatmentMark';
import type { ShownTreatment } from '../shown';
import { moduleMm, symbolSvg, type Symbol } from './symbol';

/** What one label says. */
export interface LabelText {
  code: string;
  /** `Run 2`; null where the trial is grown once. */
  run: string | null;
  treatment: ShownTreatment | null;
  plant: string | null;
  symbol: Symbol | null;
}

const CODE_MOST_MM = ptToMm(26);
const CODE_LEAST_MM = ptToMm(12);
const BENCH_MM = ptToMm(8);
const LINE = 1.15;
const BETWEEN_MM = 1;
/** A treatment's mark beside the text above a code to scan. */
const BELOW_MARK_MM = 7;

/**
 * A label's content in a field of the given size, from its upper left corner: code large, the
 * treatment's mark and levels under or beside it, the code to scan on the right. What finds no
 * room at a size that can be read is left out: levels first, then plant, then the camera's code.
 */
export function labelSvg(label: LabelText, width: number, height: number): Fragment {
  const { symbol } = label;
  const place = placeOf(label, width, height);
  if (!symbol || !place) return textWithRun(label, width, height);
  const { module, side, below } = place;
  const at = below
    ? { x: (width - side) / 2, y: height - side }
    : { x: width - side, y: (height - side) / 2 };
  const text = below
    ? textWithRun(label, width, height - side - BETWEEN_MM)
    : textWithRun(label, width - side - BETWEEN_MM, height);
  return [symbolSvg(symbol, module, at), text];
}

/** Whether a label of this size has room for the code to scan beside or below its text. */
export function symbolFits(label: LabelText, width: number, height: number): boolean {
  return placeOf(label, width, height) !== null;
}

/** The code to scan on the right, or below where labels are about square; null: no room. */
function placeOf(
  label: LabelText,
  width: number,
  height: number,
): { module: number; side: number; below: boolean } | null {
  const { symbol } = label;
  if (!symbol) return null;
  const across = symbol.modules + 2 * symbol.quiet;
  const codeMm = textWidthMm(label.code, CODE_LEAST_MM, true);
  const beside = moduleMm(symbol, Math.min(height, width * 0.5));
  if (beside !== null && codeMm <= width - beside * across - BETWEEN_MM) {
    return { module: beside, side: beside * across, below: false };
  }
  const markMm = label.treatment ? BELOW_MARK_MM : 0;
  const textMm = Math.max(CODE_LEAST_MM * LINE, markMm) + runMm(label);
  const under = moduleMm(symbol, Math.min(width, height - textMm - BETWEEN_MM));
  if (under === null || codeMm + markMm + BETWEEN_MM > width) return null;
  return { module: under, side: under * across, below: true };
}

/** Height of the line that names the run. */
const runMm = ({ run }: LabelText): number => (run === null ? 0 : BENCH_MM * LINE);

/** The run stands above all else and is never left out. */
function textWithRun(label: LabelText, width: number, height: number): Fragment {
  const { run } = label;
  if (run === null) return textBlock(label, width, height);
  const room = height - runMm(label);
  return [
    svgText(0, BENCH_MM * 0.86, BENCH_MM, run, BOLD),
    html`<g transform="translate(0 ${mm(runMm(label))})">${textBlock(label, width, room)}</g>`,
  ];
}

function textBlock(label: LabelText, width: number, height: number): Fragment {
  const perMm = textWidthMm(label.code, 1, true);
  const markRadius = Math.min(4.6, height / 2);
  const { treatment } = label;
  // On low labels code and mark share a line.
  const beside = treatment !== null && height < CODE_LEAST_MM * LINE + 2 * 3.2;
  const codeWidth = beside ? width - 2 * markRadius - BETWEEN_MM : width;
  const codeMm = Math.max(
    Math.min(CODE_MOST_MM, codeWidth / perMm, height * (treatment && !beside ? 0.42 : 0.6)),
    Math.min(CODE_LEAST_MM, codeWidth / perMm),
  );
  const lines: { svg: (y: number) => Fragment; height: number }[] = [
    {
      height: Math.min(codeMm * LINE, height),
      svg: (y) => [
        svgText(0, y + codeMm * 0.86, codeMm, label.code, BOLD),
        beside &&
          treatmentMark(treatment, {
            x: width - markRadius,
            y: y + codeMm * 0.5,
            radius: markRadius,
          }),
      ],
    },
  ];
  let left = height - codeMm * LINE;
  if (treatment && !beside) {
    const radius = Math.min(4.6, (left - 0.8) / 2);
    const plantMm = width - 2 * radius - 2;
    const whole = textWidthMm(label.plant ?? '', ptToMm(10), true) <= plantMm;
    const size = whole ? ptToMm(10) : BENCH_MM;
    const plant = label.plant ? fitEnd(label.plant, size, plantMm, true) : '';
    lines.push({
      height: 2 * radius + 0.8,
      svg: (y) => [
        treatmentMark(treatment, { x: radius + 0.15, y: y + radius + 0.2, radius }),
        plant && svgText(2 * radius + 2, y + radius + 0.2 + size * 0.36, size, plant, BOLD),
      ],
    });
    left -= 2 * radius + 0.8;
  } else if (label.plant && left >= BENCH_MM * LINE) {
    const plant = fitEnd(label.plant, BENCH_MM, width);
    lines.push({
      height: BENCH_MM * LINE,
      svg: (y) => svgText(0, y + BENCH_MM * 0.86, BENCH_MM, plant),
    });
    left -= BENCH_MM * LINE;
  }
  const rows = Math.floor(left / (BENCH_MM * LINE));
  if (treatment && treatment.name !== '' && rows > 0) {
    for (const line of wrapText(treatment.name, BENCH_MM, width, rows)) {
      lines.push({
        height: BENCH_MM * LINE,
        svg: (y) => svgText(0, y + BENCH_MM * 0.86, BENCH_MM, line),
      });
      left -= BENCH_MM * LINE;
    }
  }
  let y = (height - lines.reduce((sum, line) => sum + line.height, 0)) / 2;
  return lines.map((line) => {
    const svg = line.svg(y);
    y += line.height;
    return svg;
  });
}
