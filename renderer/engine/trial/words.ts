import type { Scheme, UnitKind } from '../../../shared-types/trial';
import { plural } from '../../words';

export const unitWords: Record<UnitKind, { one: string; many: string }> = {
  shelf: { one: 'shelf', many: 'shelves' },
  tray: { one: 'tray', many: 'trays' },
  'row-strip': { one: 'strip of rows', many: 'strips of rows' },
  'column-strip': { one: 'strip of columns', many: 'strips of columns' },
  pot: { one: 'pot', many: 'pots' },
};

export const schemeWords: Record<Scheme, string> = {
  'completely-randomised': 'a completely randomised layout',
  'complete-blocks': 'complete blocks',
  'split-plot': 'a split plot',
  'latin-square': 'a Latin square',
  'row-and-column': 'a row-and-column layout',
  'incomplete-blocks': 'incomplete blocks',
  'strip-plot': 'a strip plot',
};

/** `4 treatments`, with what a full set of them takes where some are wanted more often. */
export function treatmentsInWords(tier: {
  unit: UnitKind;
  combinations: readonly unknown[];
  pack: ArrayLike<number>;
}): string {
  const { unit, combinations, pack } = tier;
  const words = plural(combinations.length, 'treatment');
  if (pack.length === combinations.length) return words;
  return `${words} (${counted(pack.length, unit)} a full set, as some are wanted more often)`;
}

/** `1 shelf`, `3 shelves`. */
export function counted(count: number, unit: UnitKind): string {
  return plural(count, unitWords[unit].one, unitWords[unit].many);
}
