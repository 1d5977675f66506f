/** Paper sizes, ISO 216 and ANSI/ASME Y14.1, mm upright. */
export type Paper = 'A4' | 'Letter';

export const paperMm: Record<Paper, { width: number; height: number }> = {
  A4: { width: 210, height: 297 },
  Letter: { width: 215.9, height: 279.4 },
};

/** Most office printers leave 4–6 mm blank; this stays clear of it on every side. */
export const MARGIN_MM = 12;

export interface Sheet {
  paper: Paper;
  wide: boolean;
}

/** Printable width and height of a sheet, mm. */
export function printable(sheet: Sheet): { width: number; height: number } {
  const { width, height } = paperMm[sheet.paper];
  const [across, down] = sheet.wide ? [height, width] : [width, height];
  return { width: across - 2 * MARGIN_MM, height: down - 2 * MARGIN_MM };
}
