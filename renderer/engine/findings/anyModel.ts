/**
 * How often at least one of six position models (all but light) gives p below .05 where all plots
 * were treated alike. Measured by `windowAlarms` of tests/bench/falseAlarms.ts; the rates with their
 * seed are in tests/bench/false-alarms.json, which a test holds these against.
 */
export const ANY_MODEL = { models: 6, sets: 2000, share: 0.088 } as const;

/** Why the model is not to be chosen by what it shows, for anyone who looks at several. */
export function anyModelWords(): string {
  const { sets, share } = ANY_MODEL;
  return (
    'Do not choose the model that shows a difference. Where all plots were treated alike, at least ' +
    `one of six models fell below 5 % in ${Math.round(100 * share)} % of ${sets} trials drawn on a ` +
    'uniform crop.'
  );
}
