export { codeBook, labelBook } from './codes/codeBook';
export { columnParts, columnPartWords } from './columns';
export type { ColumnUse } from './columns';
export { recordsCsv } from './writing/csv';
export { recordsDictionaryCsv } from './writing/dictionary';
export { recordsHistoryCsv } from './writing/history';
export { sayMark, sayNote } from './sayState';
export { hasTrail, recordsLongCsv } from './writing/longTable';
export { potsInOrder } from './writing/order';
export type { PotOrder } from './writing/order';
export { keptHeads } from './reading/keptHeads';
export { leftOutOf } from './reading/leftOut';
export type { LeftOutLine } from './reading/leftOut';
export { matchTable } from './reading/match';
export { matchSheet } from './reading/matchSheet';
export type { SheetPreview } from './reading/matchSheet';
export type { Said } from './reading/shape';
export { inRange, toValues } from './reading/outcome';
export type {
  CellReport,
  RowReport,
  TablePreview,
  TableQuestion,
  ValueToTake,
} from './reading/outcome';
export { otherRunLabels } from './codes/otherRunLabel';
export type { OtherRunLabel } from './codes/otherRunLabel';
export { codeToScan } from './codes/runCode';
export { pasteColumn } from './reading/paste';
export type { PastePreview } from './reading/paste';
export { sayWhenTaken, sayValue } from './sayValue';
export { figuresOf } from './slips/column';
export type { Slip, SlipSource } from './slips/slip';
export {
  beforeOf,
  findSlips,
  slipsInColumn,
  slipsOfMeasurement,
  treatmentNames,
} from './slips/slips';
export { pastedTwice } from './slips/pastedTwice';
export type { PastedTwice } from './slips/pastedTwice';
export { shiftedValues } from './slips/shifted';
export type { ShiftedValues } from './slips/shifted';
export { mixedColumn, mixedTrays } from './slips/unitsMixed';
export type { UnitMix } from './slips/unitsMixed';
export { asWritten, readTyped } from './typed';
export type { Typed } from './typed';
export { millimetresIn } from './unitFactor';
