import { z } from 'zod';

/** How position enters the analysis; fixed in the plan before harvest. */
export const positionModels = [
  'none',
  'edge',
  'light',
  'linear',
  'rows+columns',
  'smooth',
  'ar1',
] as const;

export const positionModelSchema = z.enum(positionModels);

/** In lists, and after "with" in a sentence. */
export const positionModelLabels: Record<PositionModel, string> = {
  none: 'no correction for place',
  edge: 'edge and inner pots told apart',
  light: 'the light at each pot',
  linear: 'a linear trend over rows and columns',
  'rows+columns': 'rows and columns of each tray',
  smooth: 'a smooth surface over each tray',
  ar1: 'neighbouring pots alike',
};

/** What each of them takes of the pots: of their places, no more than slopes over them or all. */
export const positionTakes: Record<
  PositionModel,
  'nothing' | 'edge' | 'light' | 'slopes' | 'places'
> = {
  none: 'nothing',
  edge: 'edge',
  light: 'light',
  linear: 'slopes',
  'rows+columns': 'places',
  smooth: 'places',
  ar1: 'places',
};

export type PositionModel = z.infer<typeof positionModelSchema>;
