import { unitWords } from '../../../../shared-types/trial/trial';
import { positionModelLabels, type PositionModel } from '../../../../shared-types/trial/position';
import type { LightUnit } from '../../trial/lightWithin';

type PositionWords = Record<PositionModel, string>;

/** Which light the findings take: over the trial, and within which unit of a light treatment. */
export interface LightTaken {
  lightOverTrial?: boolean;
  /** The unit whose mean a light treatment sets; null where no factor is applied through light. */
  lightUnit?: LightUnit | null;
}

/** What the figures call each way of correcting for place. */
export const POSITION_TERMS: PositionWords = {
  none: 'none',
  edge: 'edge as a factor',
  light: 'light as covariate',
  linear: 'linear trend',
  'rows+columns': 'random rows and columns',
  smooth: 'penalised splines',
  ar1: 'AR(1)×AR(1)',
};

/** Each way of correcting for place as it stands in a sentence, with the light that is taken. */
export function positionWords({ lightOverTrial, lightUnit }: LightTaken): PositionWords {
  const light = lightOverTrial
    ? 'the light over the trial with the tray moves'
    : positionModelLabels.light;
  const within = lightUnit ? `, as the difference from its ${unitWords[lightUnit].one}’s mean` : '';
  return { ...positionModelLabels, light: `${light}${within}` };
}

const HEADS: PositionWords = {
  none: 'No correction for place',
  edge: 'Edge',
  light: 'Light',
  linear: 'Linear trend',
  'rows+columns': 'Rows and columns',
  smooth: 'Smooth surface',
  ar1: 'Neighbouring pots alike',
};

/** Each way of allowing for place as the head of a column. */
export function positionHeads({ lightOverTrial }: LightTaken): PositionWords {
  return lightOverTrial ? { ...HEADS, light: 'Light over the trial' } : HEADS;
}

/** The sentence with figures kept in one line with what they belong to. */
export function unbroken(text: string): string {
  return text
    .replace(/\bp ([<=]) (?=[0-9])/g, 'p\u00a0$1\u00a0')
    .replace(/(?<=[0-9]) (?=%)/g, '\u00a0')
    .replace(/\([−-]?[0-9.]+ to [^)]{1,16}\)/g, (range) => range.replaceAll(' ', '\u00a0'))
    .replace(/\bF (?=[0-9])/g, 'F\u00a0');
}
