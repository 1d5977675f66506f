export { codeBook, labelBook } from './codeBook';
export { columnParts, columnPartWords } from './columns';
export type { ColumnUse } from './columns';
export { recordsCsv } from './csv';
export { recordsDictionaryCsv } from './dictionary';
export { recordsLongCsv } from './longTable';
export { potsInOrder } from './order';
export type { PotOrder } from './order';
export { keptHeads } from './keptHeads';
export { leftOutOf } from './leftOut';
export type { LeftOutLine } from './leftOut';
export { matchTable } from './match';
export { matchSheet } from './matchSheet';
export type { SheetPreview } from './matchSheet';
export type { Said } from './shape';
export { inRange, toValues } from './outcome';
export type { CellReport, RowReport, TablePreview, TableQuestion, ValueToTake } from './outcome';
export { otherRunLabels } from './otherRunLabel';
export type { OtherRunLabel } from './otherRunLabel';
export { codeToScan } from './runCode';
export { pasteColumn } from './paste';
export type { PastePreview } from './paste';
export { sayWhenTaken, sayValue } from './sayValue';
export { alive } from './slips/slip';
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
