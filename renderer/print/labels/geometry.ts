import { papers } from '../../../shared-types/paper';
import type { LabelGeometry } from '../../../shared-types/window/printing';
import { paperMm, SAFE_MM, type Paper } from '../paper';
import { fieldNumber, rounded, shownIn, unitOf, type UnitSystem } from '../../words';

export type { LabelGeometry };

export interface LabelPreset {
  id: string;
  /** What it is; null: told by its figures, as `presetName` does. */
  words: string | null;
  paper: Paper;
  geometry: LabelGeometry;
}

/** Margins equal on opposite sides. */
function centred(
  paper: Paper,
  columns: number,
  rows: number,
  widthMm: number,
  heightMm: number,
  more: {
    gapXMm?: number;
    gapYMm?: number;
    shape?: LabelGeometry['shape'];
    cutLines?: boolean;
  } = {},
): LabelGeometry {
  const { gapXMm = 0, gapYMm = 0, shape = 'rectangle', cutLines = false } = more;
  const { width, height } = paperMm[paper];
  return {
    columns,
    rows,
    widthMm,
    heightMm,
    gapXMm,
    gapYMm,
    leftMm: (width - columns * widthMm - (columns - 1) * gapXMm) / 2,
    topMm: (height - rows * heightMm - (rows - 1) * gapYMm) / 2,
    shape,
    cutLines,
  };
}

const plain = (paper: Paper): LabelGeometry => {
  const { width, height } = paperMm[paper];
  return centred(paper, 3, 8, (width - 20) / 3, (height - 30) / 8, { cutLines: true });
};

const stakes = (paper: Paper): LabelGeometry => {
  const { width, height } = paperMm[paper];
  return centred(paper, 8, 2, (width - 20) / 8, (height - 30) / 2, {
    shape: 'stake',
    cutLines: true,
  });
};

/** Sheets by their figures alone; any other can be typed. */
export const labelPresets: readonly LabelPreset[] = [
  ...papers.flatMap((paper) => [
    named(paper, 'plain', 'Plain paper, to be cut', plain(paper)),
    named(paper, 'stakes', 'Stakes to be cut from stiff sheet', stakes(paper)),
  ]),
  sized('A4', centred('A4', 3, 8, 70, 36)),
  sized('A4', centred('A4', 3, 7, 63.5, 38.1, { gapXMm: 2.5 })),
  sized('A4', centred('A4', 2, 4, 99.1, 67.7, { gapXMm: 2.5 })),
  sized('A4', centred('A4', 5, 13, 38.1, 21.2, { gapXMm: 2.5 })),
  sized('A4', centred('A4', 4, 10, 45, 25, { gapXMm: 4, gapYMm: 2 })),
  sized('A4', centred('A4', 4, 6, 40, 40, { gapXMm: 6, gapYMm: 5, shape: 'round' })),
  sized('Letter', centred('Letter', 3, 10, 66.675, 25.4, { gapXMm: 3.175 })),
  sized('Letter', centred('Letter', 4, 20, 44.45, 12.7, { gapXMm: 7.62 })),
  sized('Letter', centred('Letter', 2, 5, 101.6, 50.8, { gapXMm: 4.7625 })),
  sized('Letter', centred('Letter', 4, 6, 40, 40, { gapXMm: 6, gapYMm: 4, shape: 'round' })),
];

function named(
  paper: Paper,
  id: string,
  words: string | null,
  geometry: LabelGeometry,
): LabelPreset {
  return { id: `${paper}-${id}`, words, paper, geometry };
}

function sized(paper: Paper, geometry: LabelGeometry): LabelPreset {
  const { columns, rows, widthMm, heightMm } = geometry;
  return named(paper, `${columns}x${rows}-${widthMm}x${heightMm}`, null, geometry);
}

/** `3 × 8, 70 × 36 mm`, in the person's units; `Plain paper, to be cut`. */
export function presetName({ words, geometry }: LabelPreset, lengths: UnitSystem): string {
  if (words !== null) return words;
  const { columns, rows, widthMm, heightMm, shape } = geometry;
  const size =
    shape === 'round'
      ? `round ${smallLength(widthMm, lengths)}`
      : `${bareLength(widthMm, lengths)} × ${smallLength(heightMm, lengths)}`;
  return `${columns} × ${rows}, ${size}`;
}

/** Length on paper, to a thousandth: `63.5 mm`, `2.625 in`. */
export function smallLength(mm: number, lengths: UnitSystem): string {
  return `${bareLength(mm, lengths)} ${unitOf('length', lengths)}`;
}

export function bareLength(mm: number, lengths: UnitSystem): string {
  return fieldNumber(rounded(shownIn('length', lengths, mm), 3));
}

/** What a paper's labels are cut from unless something else is chosen. */
export function plainLabels(paper: Paper): LabelGeometry {
  return plain(paper);
}

/** What is left of the paper to the right and below, mm; negative: the labels run off it. */
export function restMm(geometry: LabelGeometry, paper: Paper): { right: number; bottom: number } {
  const { width, height } = paperMm[paper];
  const { columns, rows, widthMm, heightMm, gapXMm, gapYMm, leftMm, topMm } = geometry;
  return {
    right: width - leftMm - columns * widthMm - (columns - 1) * gapXMm,
    bottom: height - topMm - rows * heightMm - (rows - 1) * gapYMm,
  };
}

const SMALLEST_MM = 10;

/** What is wrong with a sheet of labels, in words; null: nothing. */
export function geometryProblem(
  geometry: LabelGeometry,
  paper: Paper,
  lengths: UnitSystem = 'metric',
): string | null {
  const said = (mm: number) => smallLength(mm, lengths);
  const { columns, rows, widthMm, heightMm, gapXMm, gapYMm, leftMm, topMm } = geometry;
  for (const [name, count] of [
    ['columns', columns],
    ['rows', rows],
  ] as const) {
    if (!Number.isInteger(count) || count < 1 || count > 100) {
      return `labels, ${name}: found ${count}; a whole number from 1 to 100 is expected`;
    }
  }
  for (const [name, size] of [
    ['width', widthMm],
    ['height', heightMm],
  ] as const) {
    if (!(size >= SMALLEST_MM)) {
      return `labels, ${name}: found ${said(size)}; at least ${said(SMALLEST_MM)} is expected`;
    }
  }
  for (const [name, size] of [
    ['gap across', gapXMm],
    ['gap down', gapYMm],
    ['left margin', leftMm],
    ['top margin', topMm],
  ] as const) {
    if (!(size >= 0)) return `labels, ${name}: found ${said(size)}; ${said(0)} or more is expected`;
  }
  const rest = restMm(geometry, paper);
  // Ten nanometres: rounding of the sums.
  if (rest.right < -1e-8 || rest.bottom < -1e-8) {
    const over = rest.right < rest.bottom ? 'wider' : 'higher';
    const by = -Math.min(rest.right, rest.bottom);
    return `labels: the grid is ${said(by)} ${over} than ${paper}; a grid that fits the paper is expected`;
  }
  return null;
}

export interface LabelPlace {
  /** Of the label, from the paper's upper left corner, mm. */
  x: number;
  y: number;
}

/** A label's place on its sheet; `cell` counts from 0 along the rows. */
export function cellAt(geometry: LabelGeometry, cell: number): LabelPlace {
  const row = Math.floor(cell / geometry.columns);
  const column = cell % geometry.columns;
  return {
    x: geometry.leftMm + column * (geometry.widthMm + geometry.gapXMm),
    y: geometry.topMm + row * (geometry.heightMm + geometry.gapYMm),
  };
}

/** Print stays this far inside each label, and clear of what no printer reaches. */
const INSIDE_MM = 2;

export interface Inset {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** The part of every label that may be printed, from the label's own corner: alike for all cells. */
export function printableInset(geometry: LabelGeometry, paper: Paper): Inset {
  const { widthMm, heightMm, leftMm, topMm, shape } = geometry;
  const rest = restMm(geometry, paper);
  if (shape === 'round') {
    // The largest square inside the circle, with the margin kept at its corners.
    const side = (Math.min(widthMm, heightMm) - 2 * INSIDE_MM) / Math.SQRT2;
    return { x: (widthMm - side) / 2, y: (heightMm - side) / 2, width: side, height: side };
  }
  const x = Math.max(INSIDE_MM, SAFE_MM - Math.min(leftMm, rest.right));
  const y = Math.max(INSIDE_MM, SAFE_MM - Math.min(topMm, rest.bottom));
  return { x, y, width: widthMm - 2 * x, height: heightMm - 2 * y };
}
