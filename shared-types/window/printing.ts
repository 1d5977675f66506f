import { z } from 'zod';

const sizeMm = z.number().min(0).max(300);

export const labelShapes = ['rectangle', 'round', 'stake'] as const;

/**
 * A sheet of equal labels. Margins on the right and at the bottom follow from the paper.
 * `stake`: a strip to be pushed into the pot; its text runs along it and its lower end stays blank.
 */
export const labelSheetSchema = z.strictObject({
  columns: z.int().min(1).max(100),
  rows: z.int().min(1).max(100),
  widthMm: sizeMm.min(10),
  heightMm: sizeMm.min(10),
  gapXMm: sizeMm,
  gapYMm: sizeMm,
  leftMm: sizeMm,
  topMm: sizeMm,
  shape: z.enum(labelShapes),
  /** Lines to cut along, for sheets that are not cut yet. */
  cutLines: z.boolean(),
});
export type LabelGeometry = z.infer<typeof labelSheetSchema>;

/** What stands on a label: letter and levels (or code, on blinded pages), or the pot alone. */
export const labelContents = ['treatment', 'pot'] as const;
export type LabelContent = (typeof labelContents)[number];

export const symbolKinds = ['qr', 'data-matrix', 'none'] as const;
export type SymbolKind = (typeof symbolKinds)[number];

/** Printed length over true length. */
const printedShare = z.number().min(0.9).max(1.1);
const shiftMm = z.number().min(-10).max(10);

/** How a printer departs from what it is told, as measured on its paper. */
export const printerFitSchema = z.strictObject({
  scaleX: printedShare,
  scaleY: printedShare,
  /** Moves sheets of labels to where they belong, mm to the right and down. */
  shiftXMm: shiftMm,
  shiftYMm: shiftMm,
});
export type PrinterFit = z.infer<typeof printerFitSchema>;

/** A printer of this computer, by the name that the person gave it. */
export const printerSchema = z.strictObject({
  name: z.string().min(1).max(40),
  fit: printerFitSchema,
});
export type Printer = z.infer<typeof printerSchema>;
