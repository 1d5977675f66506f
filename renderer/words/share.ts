import { figure, fixed, trimmed } from './numbers';

/** A share as parts of a hundred with fixed decimals: `12 %`. */
export function percent(share: number, decimals = 0): string {
  return `${fixed(share * 100, decimals)} %`;
}

/** A share to two digits; what is nearly all is not called all: `12 %`, `0.5 %`, `over 99 %`. */
export function formatShare(share: number): string {
  if (share > 0.99 && share < 1) return 'over 99 %';
  return `${figure(share * 100, 2)} %`;
}

/** A share that was chosen, with as many decimals as it has, two at most: `95 %`, `99.9 %`. */
export function chosenShare(share: number): string {
  return `${trimmed(share * 100, 2)} %`;
}

/** The confidence of an interval: `95 %`. */
export function percentOf({ confidence }: { confidence: number }): string {
  return chosenShare(confidence);
}
