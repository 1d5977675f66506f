import type { LabelGeometry } from './geometry';

export type SymbolKind = 'qr' | 'data-matrix' | 'none';

export interface LabelOptions {
  geometry: LabelGeometry;
  /** The first cell to print, counted from 1 along the rows: a sheet that was begun is used up. */
  startCell: number;
  /** `treatment`: letter and levels (or code, on blinded pages); `pot`: the pot alone. */
  show: 'treatment' | 'pot';
  symbol: SymbolKind;
  /** Moves everything on the sheet for a printer that shifts, mm to the right and down. */
  shiftXMm: number;
  shiftYMm: number;
}
