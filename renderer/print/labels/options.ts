import type {
  LabelContent,
  LabelGeometry,
  SymbolKind,
} from '../../../shared-types/window/printing';

export interface LabelOptions {
  geometry: LabelGeometry;
  /** The first cell to print, counted from 1 along the rows: a sheet that was begun is used up. */
  startCell: number;
  show: LabelContent;
  symbol: SymbolKind;
}
