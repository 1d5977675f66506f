export { codeBook, labelBook } from './codeBook';
export type { ColumnUse } from './columns';
export { recordsCsv } from './csv';
export { recordsDictionaryCsv } from './dictionary';
export { recordsLongCsv } from './longTable';
export { potsInOrder } from './order';
export type { PotOrder } from './order';
export { matchTable } from './match';
export { inRange, toValues } from './outcome';
export type { CellReport, RowReport, TablePreview, ValueToTake } from './outcome';
export { pasteColumn } from './paste';
export type { PastePreview } from './paste';
export { sayWhenTaken, sayValue } from './sayValue';
export { alive } from './slip';
export type { Slip, SlipSource } from './slip';
export {
  beforeOf,
  farFromNeighbours,
  findSlips,
  slipsOfMeasurement,
  treatmentNames,
} from './slips';
export { mixedColumn, mixedTrays } from './unitsMixed';
export type { UnitMix } from './unitsMixed';
export { asWritten, readTyped } from './typed';
export type { Typed } from './typed';
