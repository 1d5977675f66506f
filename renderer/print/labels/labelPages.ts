import type { Plan } from '../../../shared-types/plan';
import type { PrinterFit, SymbolKind } from '../../../shared-types/window/printing';
import type { Rack } from '../../../shared-types/rack';
import { memo } from '../../derive/memo';
import { codeToScan } from '../../document/records';
import { hasSeveralRuns, runName } from '../../document/runs';
import type { Page } from '../document';
import type { Frame } from '../frame';
import { html, type Fragment, type Html } from '../html';
import type { PrintOptions } from '../options';
import { shownPots, shownTreatments, trialPots } from '../shown';
import { mm } from '../text';
import {
  cellAt,
  geometryProblem,
  printableInset,
  type Inset,
  type LabelGeometry,
} from './geometry';
import { labelSvg, symbolFits, type LabelText } from './label';
import {
  ABOVE_LINE_MM,
  cellOutline,
  labelPage,
  linesAbove,
  lineText,
  marginLine,
  originCell,
  originPlace,
} from './sheet';
import { symbolOf, type Symbol } from './symbol';
import { Refusal } from '../../words';

const CUT_STYLE = html`stroke="#777" stroke-width=".15" stroke-dasharray="1.5 1"`;

/**
 * One label a pot of the trial, in walking order. Throws where the sheet of labels is impossible or
 * the first cell is not on it.
 */
export function labelPages(plan: Plan, frame: Frame, options: PrintOptions): Page[] {
  const { geometry, startCell } = checked(plan, options);
  const { paper } = options;
  const cells = geometry.columns * geometry.rows;
  const inset = printableInset(geometry, paper);
  const labels = labelTexts(plan, options);
  const place = originPlace(geometry, paper);
  const ownCell = place === 'cell';
  const symbolFor = symbolsOf(plan, options.labels.symbol);
  const pages: PotText[][] = [];
  for (let at = 0; at < labels.length;) {
    const first = pages.length === 0 ? startCell - 1 : 0;
    const room = cells - first - (ownCell ? 1 : 0);
    // A sheet on which only the origin would find room is passed over.
    pages.push(labels.slice(at, at + Math.max(0, room)));
    at += Math.max(0, room);
  }
  return pages.map((page, i) => {
    const first = i === 0 ? startCell - 1 : 0;
    const heading =
      page.length > 0
        ? `Pot labels ${page[0]?.code ?? ''} to ${page.at(-1)?.code ?? ''}`
        : 'Pot labels';
    const number = `Page ${i + 1} of ${pages.length}`;
    return labelPage(paper, heading, () => {
      const above =
        place === 'labels' ? linesAbove(frame, heading, number, inset.width, page.length) : [];
      const parts = page.map((label, n) =>
        cellSvg(
          { ...label, symbol: symbolFor(label.code) },
          geometry,
          inset,
          { cell: first + n + (ownCell ? 1 : 0), above: above[n] ?? [] },
          paper,
        ),
      );
      if (place === 'labels') return shifted(parts, options.printer);
      const origin = ownCell
        ? [
            originCell(frame, cellAt(geometry, first), inset, heading, number),
            geometry.cutLines && cellOutline(geometry, cellAt(geometry, first), paper, CUT_STYLE),
          ]
        : marginLine(frame, paper, geometry, heading, number);
      return shifted([...parts, origin], options.printer);
    });
  });
}

function shifted(parts: Fragment, { shiftXMm, shiftYMm }: PrinterFit): Html {
  return html`<g transform="translate(${mm(shiftXMm)} ${mm(shiftYMm)})">${parts}</g>`;
}

/** Whether the chosen code to scan finds room on the chosen labels. */
export function symbolHasRoom(plan: Plan, options: PrintOptions): boolean {
  if (options.labels.symbol === 'none' || geometryProblem(options.labels.geometry, options.paper)) {
    return true;
  }
  const [first] = labelTexts(plan, options, 1);
  const label = first && {
    ...first,
    symbol: symbolsOf(plan, options.labels.symbol)(first.code),
  };
  const inset = printableInset(options.labels.geometry, options.paper);
  const field = fieldOf(options.labels.geometry, inset);
  return !label || symbolFits(label, field.width, field.height);
}

/** Data Matrix, which is smaller, where the QR code finds no room and it does; null: nothing to propose. */
export function symbolProposed(plan: Plan, options: PrintOptions): 'data-matrix' | null {
  const { labels } = options;
  if (labels.symbol !== 'qr' || symbolHasRoom(plan, options)) return null;
  const smaller = { ...options, labels: { ...labels, symbol: 'data-matrix' as const } };
  return symbolHasRoom(plan, smaller) ? 'data-matrix' : null;
}

function checked(
  plan: Plan,
  options: PrintOptions,
): { geometry: LabelGeometry; startCell: number } {
  const { geometry, startCell } = options.labels;
  const problem = geometryProblem(geometry, options.paper, plan.display.lengths);
  if (problem !== null) throw new Refusal(problem);
  const cells = geometry.columns * geometry.rows;
  if (!Number.isInteger(startCell) || startCell < 1 || startCell > cells) {
    throw new Refusal(
      `labels, first cell: found ${startCell}; a whole number from 1 to ${cells} is expected`,
    );
  }
  return { geometry, startCell };
}

/** A label before its code to scan is made, which takes the most time. */
type PotText = Omit<LabelText, 'symbol'>;

// A preview that is made again with other options finds the codes it made before.
const madeSymbols = memo((_rack: Rack, _kind: SymbolKind) => new Map<string, Symbol>());

/** The code to scan says what is printed beside it, the run too: eye and camera read the same. */
function symbolsOf(plan: Plan, kind: SymbolKind): (code: string) => Symbol | null {
  if (kind === 'none') return () => null;
  const made = madeSymbols(plan.rack, kind);
  return (code) => {
    const text = codeToScan(plan, code);
    const symbol = made.get(text) ?? symbolOf(kind, text);
    made.set(text, symbol);
    return symbol;
  };
}

function labelTexts(plan: Plan, options: PrintOptions, most = Infinity): PotText[] {
  const { show } = options.labels;
  const shown = shownPots(plan, shownTreatments(plan, options.blinded));
  return trialPots(plan, options)
    .slice(0, most)
    .map((pot) => {
      const place = shown.get(pot.id);
      return {
        code: pot.code,
        run: hasSeveralRuns(plan) ? runName(plan) : null,
        treatment: show === 'treatment' ? (place?.treatment ?? null) : null,
        plant: place?.plant ?? null,
      };
    });
}

/** Share of a stake that stands in the pot and stays blank. */
const BURIED_SHARE = 0.35;

/** Width and height of the text's field, along the stake where it is one. */
function fieldOf(geometry: LabelGeometry, inset: Inset): { width: number; height: number } {
  if (geometry.shape !== 'stake') return inset;
  return { width: inset.height * (1 - BURIED_SHARE), height: inset.width };
}

function cellSvg(
  label: LabelText,
  geometry: LabelGeometry,
  inset: Inset,
  { cell, above }: { cell: number; above: readonly string[] },
  paper: PrintOptions['paper'],
): Html {
  const at = cellAt(geometry, cell);
  const field = fieldOf(geometry, inset);
  const aboveMm = above.length * ABOVE_LINE_MM;
  const content = labelSvg(label, field.width, field.height - aboveMm);
  const [x, y] = [at.x + inset.x, at.y + inset.y];
  const cut = geometry.cutLines && cellOutline(geometry, at, paper, CUT_STYLE);
  if (geometry.shape !== 'stake') {
    return html`${cut}${lineText(above, x, y)}<g transform="translate(${mm(x)} ${mm(y + aboveMm)})">${content}</g>`;
  }
  // Read from the right, top end first; the point to be pushed in is below.
  const middle = at.x + geometry.widthMm / 2;
  const foot = at.y + geometry.heightMm - inset.y;
  const point = html`<path d="M${mm(at.x + inset.x)},${mm(foot - 10)}L${mm(middle)},${mm(foot)}L${mm(at.x + geometry.widthMm - inset.x)},${mm(foot - 10)}" fill="none" ${CUT_STYLE}/>`;
  return html`${cut}${point}<g transform="translate(${mm(x + inset.width)} ${mm(y)}) rotate(90)">${content}</g>`;
}
