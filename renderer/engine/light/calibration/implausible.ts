import type { GroupScale } from './scales';

/** One reading against what the others expect in its place. */
export interface ReadingAgainstOthers {
  readingId: string;
  measuredUmol: number;
  expectedUmol: number;
  /** 100 · (measured / expected − 1). */
  percent: number;
}

/** Why readings are not believed: a factor on a lamp group, or one reading that the others miss. */
export type Implausible =
  | { kind: 'factor'; group: string; scale: number }
  | { kind: 'missed'; reading: ReadingAgainstOthers };

// A lamp gives its label within these factors, aged, dirty or cold (common practice, no source).
const LEAST_FACTOR = 0.5;
const MOST_FACTOR = 1.5;
const MOST_MISSED_PERCENT = 30;
const ROUNDING = 1e-9;

/** How far apart two figures are, whichever is the larger. */
const apart = ({ measuredUmol, expectedUmol }: ReadingAgainstOthers) =>
  Math.abs(Math.log(measuredUmol / expectedUmol));

/** The strangest thing about a calibration, where it is too strange; a reading before a factor. */
export function implausibleIn(
  scales: readonly GroupScale[],
  leftOut: readonly ReadingAgainstOthers[],
): Implausible | null {
  const missed = leftOut.filter(
    ({ percent }) => Math.abs(percent) > MOST_MISSED_PERCENT + ROUNDING,
  );
  const [first, ...rest] = missed;
  if (first) {
    const reading = rest.reduce((worst, one) => (apart(one) > apart(worst) ? one : worst), first);
    return { kind: 'missed', reading };
  }
  const strange = scales.find(
    ({ scale }) => scale < LEAST_FACTOR - ROUNDING || scale > MOST_FACTOR + ROUNDING,
  );
  return strange ? { kind: 'factor', ...strange } : null;
}
