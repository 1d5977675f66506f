import type { ShelfModel } from '../model';
import { COVERAGE, deviationOf } from '../range';
import type { PointMm } from '../sources/direct';
import { entry, num, real } from '../../entry';
import {
  missedAmong,
  strangeFactor,
  type Implausible,
  type Photons,
  type ReadingAgainstOthers,
} from './implausible';
import { SINGLE_READING, type Regression } from './regression';
import type { Row } from './rows';
import { slipOf, type SlipKind } from './slips';

/** What is known of the estimate before any reading. */
export interface EstimateKnown {
  /** Standard deviation of all its light together, as a share. */
  common: number;
  /** The same of single places, beyond what they have in common. */
  uncertaintyAt?: (points: readonly PointMm[]) => Float64Array;
  /** Photons on the canopy by the estimate, those that leave the lamps, and how far the lamps may be off. */
  photons?: Photons & { tolerance: number };
}

/** Of fewer readings none is left out: the whole set is withheld. */
export const FEWEST_TO_LEAVE_OUT = 6;
/**
 * What all readings of a meter share. Published: ±5 % of calibration (LI-COR, factory calibration of
 * quantum sensors) and ±2 % of direction at 45° (Apogee Instruments, manual of the MQ-100).
 */
export const METER = deviationOf(Math.hypot(0.05, 0.02));

export const weightOf = ({ sample }: Row) => 1 / (SINGLE_READING ** 2 * (1 + sample.dark ** 2));

/** What readings put all lamps at together, against their figures: least squares of relative errors. */
export function ratioOf(rows: readonly Row[]): number {
  const weights = rows.reduce((sum, row) => sum + weightOf(row), 0);
  return 1 + rows.reduce((sum, row) => sum + weightOf(row) * row.sample.value, 0) / weights;
}

interface Judged {
  rows: readonly Row[];
  slips: readonly (SlipKind | null)[];
  sound: readonly Row[];
  kept: readonly Row[];
  fit: Regression;
  leftOut: readonly ReadingAgainstOthers[];
  model: ShelfModel;
  known: EstimateKnown;
}

/** The strangest thing about a set of readings, where it is too strange. */
export function judged({
  rows,
  slips,
  sound,
  kept,
  fit,
  leftOut,
  model,
  known,
}: Judged): Implausible | null {
  const slipped = rows.filter((_, i) => entry(slips, i) !== null);
  const few = rows.length < FEWEST_TO_LEAVE_OUT;
  const [first] = slipped;
  if (first && (few || slipped.length > sound.length)) {
    const slip = commonest(slips);
    if (sound.length === 0) return { kind: 'factor', scale: ratioOf(rows), slip };
    if (slipped.length > 1 && slip) {
      const readingIds = slipped.map(({ reading }) => reading.id);
      return { kind: 'slips', readingIds, of: rows.length, times: ratioOf(slipped), slip };
    }
    return { kind: 'missed', reading: againstFit(first, fit), slip };
  }
  const missed = kept.length > 1 ? missedAmong(leftOut) : undefined;
  if (missed) {
    const unit =
      kept.find(({ reading }) => reading.id === missed.readingId)?.reading.unit ?? 'ppfd';
    // In the dark much light of the room may look like a slip upwards, and is none.
    const slip =
      missed.percent < 0 ? slipOf(missed.measuredUmol / missed.expectedUmol, unit) : null;
    return { kind: 'missed', reading: missed, slip };
  }
  const ratio = ratioOf(kept);
  const shared = Math.max(0, ...kept.map((row) => row.shared));
  const scales = model.groups.map((group, g) => ({ group, scale: num(fit.scales, g) }));
  const strange = strangeFactor(ratio, scales, COVERAGE * Math.hypot(known.common, shared));
  return strange ?? tooManyPhotons(ratio, shared, known);
}

function commonest(slips: readonly (SlipKind | null)[]): SlipKind | null {
  const counts = new Map<SlipKind, number>();
  for (const slip of slips) if (slip) counts.set(slip, (counts.get(slip) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}

function againstFit({ reading, measured, estimated, sample }: Row, fit: Regression) {
  const weights = fit.weightsAt(sample);
  const expected = fit.samples.reduce((sum, { value }, i) => sum + value * real(weights, i), 0);
  const expectedUmol = estimated * Math.max(0.05, 1 + expected);
  return {
    readingId: reading.id,
    measuredUmol: measured,
    expectedUmol,
    percent: 100 * (measured / expectedUmol - 1),
    deviations: Infinity,
  };
}

/** More photons on the canopy than lamps and meter allow; what an estimate lands is never doubted. */
function tooManyPhotons(ratio: number, shared: number, { photons }: EstimateKnown) {
  if (!photons) return null;
  const { landingUmolS, emittedUmolS, tolerance } = photons;
  const meter = 1 + COVERAGE * Math.hypot(METER, shared);
  const most = Math.max(emittedUmolS, landingUmolS) * (1 + tolerance) * meter;
  if (ratio * landingUmolS <= most) return null;
  return { kind: 'photons' as const, landingUmolS: ratio * landingUmolS, emittedUmolS };
}
