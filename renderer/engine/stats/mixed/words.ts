import type { Denominator } from './types';

/** What a person should know of a fit, in words. */
export function zeroUnitWarning(unit: string, denominator: Denominator): string {
  const df =
    denominator === 'satterthwaite'
      ? '; degrees of freedom take it as known to be zero and may be too hopeful'
      : '';
  return (
    `The variance of ${unit} is estimated as zero: its levels differ no more than chance alone ` +
    `would make them${df}.`
  );
}

export function explainedUnitWarning(unit: string): string {
  return (
    `The variation between levels of ${unit} cannot be told from the fixed effects, which differ ` +
    'between its levels; its variance is left out, and nothing here says how much of a ' +
    `difference between levels of ${unit} is chance.`
  );
}

export const singularWarning =
  'The variances cannot be told apart by these data, so tests are referred to the normal and ' +
  'chi-square distributions and are too hopeful.';

export const unsettledWarning = 'The search for the variances did not settle; take them as rough.';

export const uncorrectedWarning =
  'The correction of the standard errors after Kenward and Roger breaks down on these data (it ' +
  'would make a variance negative); they are given without it.';
