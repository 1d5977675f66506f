import type { Row } from './rows';
import type { GroupScale } from './scales';
import { slipOf, type SlipKind } from './slips';

/** One reading against what the others expect in its place. */
export interface ReadingAgainstOthers {
  readingId: string;
  measuredUmol: number;
  expectedUmol: number;
  /** 100 · (measured / expected − 1). */
  percent: number;
  /** How many standard deviations apart. */
  deviations: number;
}

/** Photons per second on the canopy and from the lamps, µmol s⁻¹. */
export interface Photons {
  landingUmolS: number;
  emittedUmolS: number;
}

/**
 * Why readings are not believed: a factor on the lamps or on one group; one reading that the others miss;
 * several that look like one slip; more photons on the canopy than the lamps emit.
 */
export type Implausible =
  | { kind: 'factor'; scale: number; slip: SlipKind | null }
  | { kind: 'group'; group: string; scale: number }
  | { kind: 'missed'; reading: ReadingAgainstOthers; slip: SlipKind | null }
  | { kind: 'slips'; readingIds: readonly string[]; of: number; times: number; slip: SlipKind }
  | ({ kind: 'photons' } & Photons);

// A lamp gives its label within these factors, aged, dirty or cold (common practice, no source).
const LEAST_FACTOR = 0.5;
const MOST_FACTOR = 1.5;
const MOST_MISSED_PERCENT = 30;
/** By chance a sound reading lies so far off once in 16,000. */
const MOST_DEVIATIONS = 4;
const ROUNDING = 1e-9;
// A slip in the dark, where little light means a large ratio, is none: by these shares of the brightest.
// Light of the room may add to what the lamps give; nothing but shade takes away from it.
const SLIP_ABOVE = 0.2;
const SLIP_BELOW = 0.05;

/** How far apart two figures are, whichever is the larger. */
const apart = ({ measuredUmol, expectedUmol }: ReadingAgainstOthers) =>
  Math.abs(Math.log(measuredUmol / expectedUmol));

/** The slip that each reading looks like, against the estimate; null for none. */
export function slipsAmong(rows: readonly Row[]): (SlipKind | null)[] {
  const brightest = Math.max(0, ...rows.map(({ estimated }) => estimated));
  return rows.map(({ measured, estimated, reading }) =>
    measured - estimated < SLIP_ABOVE * brightest && estimated - measured < SLIP_BELOW * brightest
      ? null
      : slipOf(measured / estimated, reading.unit),
  );
}

/** Between which a factor on the lamps is believed: wider where the estimate is known less well. */
export function believedFactors(statedShare: number): { lowest: number; highest: number } {
  return {
    lowest: Math.min(LEAST_FACTOR, 1 / (1 + 2 * statedShare)),
    highest: Math.max(MOST_FACTOR, 1 + 2 * statedShare),
  };
}

/** The reading that the others miss most, where one is missed by too much. */
export function missedAmong(
  leftOut: readonly ReadingAgainstOthers[],
): ReadingAgainstOthers | undefined {
  return leftOut
    .filter(
      ({ percent, deviations }) =>
        Math.abs(percent) > MOST_MISSED_PERCENT + ROUNDING && deviations > MOST_DEVIATIONS,
    )
    .reduce<ReadingAgainstOthers | undefined>(
      (worst, one) => (worst && apart(worst) >= apart(one) ? worst : one),
      undefined,
    );
}

/** A factor that lamps never have. `ratio` is that of the readings, not drawn towards 1. */
export function strangeFactor(
  ratio: number,
  scales: readonly GroupScale[],
  statedShare: number,
): Implausible | null {
  const { lowest, highest } = believedFactors(statedShare);
  const strange = (scale: number) => scale < lowest - ROUNDING || scale > highest + ROUNDING;
  if (strange(ratio)) return { kind: 'factor', scale: ratio, slip: null };
  const group = scales.length > 1 ? scales.find(({ scale }) => strange(scale)) : undefined;
  return group ? { kind: 'group', ...group } : null;
}
