import type { Stage } from '../notice';

/** Where one goes on after a refusal: what lets the act be done, or does what it was to do. */
export const waysOn = [
  'unlock-layout',
  'unlock-analysis',
  'records-stand',
  'clear-records',
  'level-settings',
] as const;
export type WayOn = (typeof waysOn)[number];

export const wayOnLabels: Record<WayOn, string> = {
  'unlock-layout': 'Go to the lock',
  'unlock-analysis': 'Go to the lock of the analysis',
  'records-stand': 'Go to new run and next trial',
  'clear-records': 'Go to its records',
  'level-settings': 'Go to the levels',
};

export const wayOnStages: Record<WayOn, Stage> = {
  'unlock-layout': 'layout',
  'unlock-analysis': 'trial',
  'records-stand': 'layout',
  'clear-records': 'records',
  'level-settings': 'trial',
};
