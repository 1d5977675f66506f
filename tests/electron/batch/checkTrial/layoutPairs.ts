import { factorOf, rackOf } from '../../../builders/trialInput';
import type { noticeKinds } from '../../../../shared-types/notice';
import { altered, drawn, exchanged, planOf, plantedOn, renamed, trays } from './flawedPlans';
import type { Pair } from './pair';

export const layoutPairs: Record<(typeof noticeKinds)['layout'][number], Pair[]> = {
  'many-swaps': [
    {
      what: 'four of 32 pots exchanged, against two',
      flawed: () => exchanged(2),
      sound: () => exchanged(1),
      says: /^4 of 32 pots were exchanged by hand after the draw/,
    },
  ],
  'layout-missing': [
    {
      what: 'nothing drawn, against drawn',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)]),
      sound: () => drawn(planOf(rackOf(trays), [factorOf(1, 'pot', 2)])),
      says: /No layout has been drawn yet/,
    },
  ],
  'layout-stale': [
    {
      what: 'a level more since the draw, against levels renamed',
      flawed: () => renamed(3),
      sound: () => renamed(2),
      says: /have changed since the layout was drawn/,
    },
  ],
  'planted-before-draw': [
    {
      what: 'planted the day before the draw, against the day of it',
      flawed: () => plantedOn(-1),
      sound: () => plantedOn(0),
      says: /The layout was drawn on .*, after planting on/,
    },
  ],
  'layout-altered': [
    {
      what: 'two pots exchanged without a word, against logged',
      flawed: () => altered(false),
      sound: () => altered(true),
      says: /not what its seed “check” and its logged exchanges give: 2 pots differ/,
    },
  ],
};
