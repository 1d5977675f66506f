import type { Blocks, Scheme, UnitKind } from '../../../shared-types/trial';

export const unitWord: Record<UnitKind, { one: string; many: string }> = {
  shelf: { one: 'shelf', many: 'shelves' },
  tray: { one: 'tray', many: 'trays' },
  'row-strip': { one: 'strip of rows', many: 'strips of rows' },
  'column-strip': { one: 'strip of columns', many: 'strips of columns' },
  pot: { one: 'pot', many: 'pots' },
};

export const unitOptions: readonly { value: UnitKind; label: string }[] = [
  { value: 'pot', label: 'single pots' },
  { value: 'tray', label: 'whole trays' },
  { value: 'shelf', label: 'whole shelves' },
  { value: 'row-strip', label: 'strips of rows' },
  { value: 'column-strip', label: 'strips of columns' },
];

export const schemeOptions: readonly { value: Scheme; label: string }[] = [
  { value: 'completely-randomised', label: 'completely randomised' },
  { value: 'complete-blocks', label: 'randomised complete blocks' },
  { value: 'split-plot', label: 'split plot' },
  { value: 'latin-square', label: 'Latin square' },
  { value: 'row-and-column', label: 'rows and columns' },
  { value: 'incomplete-blocks', label: 'incomplete blocks' },
  { value: 'strip-plot', label: 'strip plot' },
];

export const blockOptions: readonly { value: Blocks['by']; label: string }[] = [
  { value: 'none', label: 'no blocks' },
  { value: 'shelf', label: 'each shelf' },
  { value: 'tray', label: 'each tray' },
  { value: 'tray-halves', label: 'halves of each tray' },
  { value: 'tray-quarters', label: 'quarters of each tray' },
  { value: 'rows', label: 'rows of pots on each shelf' },
  { value: 'columns', label: 'columns of pots on each shelf' },
  { value: 'light', label: 'bands of equal light' },
];

/** What a kind of block starts with when it is chosen. */
export function blocksFor(by: Blocks['by']): Blocks {
  if (by === 'rows' || by === 'columns') return { by, perBlock: 1 };
  if (by === 'light') return { by, bands: 4 };
  return { by };
}
