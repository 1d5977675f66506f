export { htmlDocument, type Page } from './document';
export { pageFrameOf, type Frame } from './frame';
export { labelPresets, plainLabels, presetName } from './labels/geometry';
export { labelsPerSheet } from './labels/sheet';
export type { LabelGeometry, LabelPreset } from './labels/geometry';
export { symbolHasRoom, symbolProposed } from './labels/labelPages';
export type { LabelOptions } from './labels/options';
export type { PrintOptions } from './options';
export type { Paper } from './paper';
export { EXACT_PRINTER, lostStripMm } from './printer';
export { RULER } from './document';
export {
  defaultOptions,
  isDrawn,
  printableNames,
  printed,
  printables,
  UNDRAWN_NAMES,
} from './printables';
export { roundsOf } from './sheets/rounds';
export type { Printable, PrintableName } from './printables';
export { treatmentsOnScreen } from './shown';
export type { ShownTreatment } from './shown';
