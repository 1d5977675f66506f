export { guardText, unguardText } from './guard';
export { parseDelimited } from './parse';
export type { ParsedLine } from './parse';
export type { Separator } from './style';
export { writeDelimited } from './write';
export type { CellOut, TableStyle } from './write';
