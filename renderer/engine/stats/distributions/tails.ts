import { Refusal } from '../../../words';

/** Both tails of a distribution at one point: P(X ≤ x) and P(X > x), each with its own digits. */
export interface Tails {
  lower: number;
  upper: number;
}

const SMALLEST = 1e-300;

/** Probabilities below 1e-300 are reported as 0; rounding may not push one above 1. */
export function reportable(probability: number): number {
  if (probability < SMALLEST) return 0;
  return probability > 1 ? 1 : probability;
}

export function requireNumber(where: string, name: string, value: number): void {
  if (Number.isNaN(value)) throw new Refusal(`${where}: ${name} is not a number`);
}

/** A probability for a quantile: 0 and 1 are allowed and give the ends of the range. */
export function requireProbability(where: string, value: number): void {
  if (!(value >= 0 && value <= 1)) {
    throw new Refusal(`${where}: probability is ${value}; expected a number from 0 to 1`);
  }
}
