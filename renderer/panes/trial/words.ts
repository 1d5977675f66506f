import { schemeLabels, schemes, type Blocks, type UnitKind } from '../../../shared-types/trial';

export const unitOptions: readonly { value: UnitKind; label: string }[] = [
  { value: 'pot', label: 'single pots' },
  { value: 'tray', label: 'whole trays' },
  { value: 'bay', label: 'whole bays' },
  { value: 'zone', label: 'all that one reservoir feeds' },
  { value: 'shelf', label: 'whole shelves' },
  { value: 'row-strip', label: 'strips of rows' },
  { value: 'column-strip', label: 'strips of columns' },
];

export const schemeOptions = schemes.map((value) => ({ value, label: schemeLabels[value] }));

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
