import { unitWords, type UnitKind } from '../../../shared-types/trial/trial';
import { type Scheme } from '../../../shared-types/trial/scheme';
import { plural } from '../../words';

/** What a scheme is called within a sentence, and how a layout was drawn by it. */
export const schemeWords: Record<Scheme, { name: string; drawn: string }> = {
  'completely-randomised': {
    name: 'a completely randomised layout',
    drawn: 'completely at random',
  },
  'complete-blocks': { name: 'complete blocks', drawn: 'at random within complete blocks' },
  'split-plot': {
    name: 'a split plot',
    drawn:
      'as a split plot: the treatments of whole trays or shelves first, those of pots within them',
  },
  'latin-square': { name: 'a Latin square', drawn: 'as Latin squares over rows and columns' },
  'row-and-column': { name: 'a row-and-column layout', drawn: 'evenly over rows and columns' },
  'incomplete-blocks': { name: 'incomplete blocks', drawn: 'in incomplete blocks' },
  'strip-plot': {
    name: 'a strip plot',
    drawn:
      'as a strip plot: one treatment on strips of rows and another on strips of columns of each block',
  },
};

/** `4 treatments`, with what a full set of them takes where some are wanted more often. */
export function treatmentsInWords(tier: {
  unit: UnitKind;
  combinations: readonly unknown[];
  fullSet: ArrayLike<number>;
}): string {
  const { unit, combinations, fullSet } = tier;
  const words = plural(combinations.length, 'treatment');
  if (fullSet.length === combinations.length) return words;
  return `${words} (${counted(fullSet.length, unit)} a full set, as some are wanted more often)`;
}

/** `1 shelf`, `3 shelves`. */
export function counted(count: number, unit: UnitKind): string {
  return plural(count, unitWords[unit].one, unitWords[unit].many);
}
