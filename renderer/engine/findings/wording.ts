import type { PositionModel } from '../../../shared-types/trial';

type PositionWords = Record<PositionModel, string>;

/** Each way of allowing for position, as it stands in a sentence. */
export const POSITION_WORDS: PositionWords = {
  none: 'position left out',
  edge: 'edge pots told from inner pots',
  light: 'light at each pot',
  linear: 'a slope over rows and columns',
  'rows+columns': 'rows and columns of each tray',
  smooth: 'a smooth surface over each tray',
  ar1: 'likeness of neighbours',
};

const MOVED_WORDS: PositionWords = {
  ...POSITION_WORDS,
  light: 'light over the trial with the tray moves',
};

/** The same, where the light may be that of a trial whose trays were moved by a rota. */
export function positionWords({ lightOverTrial }: { lightOverTrial?: boolean }): PositionWords {
  return lightOverTrial ? MOVED_WORDS : POSITION_WORDS;
}

const HEADS: PositionWords = {
  none: 'No correction for place',
  edge: 'Edge',
  light: 'Light',
  linear: 'Slope',
  'rows+columns': 'Rows and columns',
  smooth: 'Smooth surface',
  ar1: 'Neighbouring pots alike',
};

/** Each way of allowing for place as the head of a column. */
export function positionHeads({ lightOverTrial }: { lightOverTrial?: boolean }): PositionWords {
  return lightOverTrial ? { ...HEADS, light: 'Light over the trial' } : HEADS;
}

/** The sentence with figures kept in one line with what they belong to. */
export function unbroken(text: string): string {
  return text
    .replace(/\bp ([<=]) (?=[0-9])/g, 'p\u00a0$1\u00a0')
    .replace(/(?<=[0-9]) (?=%)/g, '\u00a0')
    .replace(/\bF (?=[0-9])/g, 'F\u00a0');
}
