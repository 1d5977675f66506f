import type { Paper } from '../../shared-types/paper';

export type { Paper };

/** Paper sizes, ISO 216 and ANSI/ASME Y14.1, mm upright. */
export const paperMm: Record<Paper, { width: number; height: number }> = {
  A4: { width: 210, height: 297 },
  Letter: { width: 215.9, height: 279.4 },
};

/** Around every page but sheets of labels. */
export const MARGIN_MM = 10;

/** Most printers cannot print the outer 4 to 6 mm; nothing is ever put there. */
export const SAFE_MM = 5;

export interface Sheet {
  paper: Paper;
  wide: boolean;
}

/** Width and height of a sheet as it lies, mm. */
export function sheetMm(sheet: Sheet): { width: number; height: number } {
  const { width, height } = paperMm[sheet.paper];
  return sheet.wide ? { width: height, height: width } : { width, height };
}
