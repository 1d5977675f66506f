import type { LightReading } from '../../../../shared-types/light';
import { luxFactors } from '../../../../shared-types/luxSpectra';
import type { ShelfModel } from '../model';
import { deviationOf } from '../range';
import { real } from '../../entry';
import type { Sample } from './regression';

/** A reading that can be used, beside what the lamps' figures give at its place. */
export interface Row {
  reading: LightReading;
  /** µmol m⁻² s⁻¹; of a reading carried over, what it would be now. */
  measured: number;
  estimated: number;
  sample: Sample;
  /** Standard deviation of what it shares with all readings in lux: its factor; 0 for PPFD. */
  shared: number;
}

/** Of what a reading was taken: what is there now, the same in an earlier run, or what was there before. */
export type TakenUnder = 'now' | 'earlier run' | 'before a change';
export type TakenOf = (reading: LightReading) => TakenUnder;

/** Why a reading is not used that was taken of other lamps than hang now. */
export const BEFORE_CHANGE = 'taken before lamps or surfaces were changed';

export const EARLIER_RUN = 'taken in an earlier run';

/** Lamps that were off, or a meter that was, say nothing of how strong the lamps are. */
const NO_SCALE = 'a 0, which tells nothing of how strong the lamps are';

/** Common practice, no source: light of the room and other shelves, in shares of a reading's own error. */
const STRAY = 1 / 3;

/** A reading in PPFD (µmol m⁻² s⁻¹), or why it has none. */
export function readingPpfd(reading: LightReading): number | string {
  switch (reading.unit) {
    case 'ppfd':
      return reading.value;
    case 'lux':
      if (reading.luxPerPpfd === null) return 'in lux without a conversion factor';
      return reading.value / reading.luxPerPpfd;
    default:
      return reading.unit satisfies never;
  }
}

/**
 * Half the range of a reading's conversion from lux, as a share of the factor; 0 for PPFD.
 * Where no range is known, that of white LED.
 */
export function luxUncertainty({ unit, luxPerPpfd, luxRange }: LightReading): number {
  if (unit === 'ppfd' || luxPerPpfd === null) return 0;
  if (luxRange) return Math.max(0, luxRange.highest - luxRange.lowest) / 2 / luxPerPpfd;
  const { white } = luxFactors;
  return (white.highest - white.lowest) / 2 / white.factor;
}

/**
 * Usable readings, and why each other is not (by id). Readings of the lamps as they hang come first; where
 * there are none, those of before a change are carried over by their ratio to the estimate of then.
 */
export function readingRows(
  model: ShelfModel,
  readings: readonly LightReading[],
  span: { widthMm: number; depthMm: number },
  standing: TakenOf,
): { rows: Row[]; carried: boolean; unusable: Map<string, string> } {
  const size = Math.max(span.widthMm, span.depthMm);
  const beside = ({ xMm, yMm }: LightReading) =>
    xMm < 0 || yMm < 0 || xMm > span.widthMm || yMm > span.depthMm;
  const byGroup = model.groups.map((group) => model.at(readings, (g) => (g === group ? 1 : 0)));
  const unusable = new Map<string, string>();
  const [fresh, before]: [Row[], Row[]] = [[], []];
  readings.forEach((reading, i) => {
    const ppfd = readingPpfd(reading);
    const parts = byGroup.map((values) => real(values, i));
    const estimated = parts.reduce((sum, part) => sum + part, 0);
    const stands = standing(reading);
    // The same lamps had the same estimate in an earlier run.
    const then = stands === 'before a change' ? reading.estimateUmol : estimated;
    if (typeof ppfd === 'string') unusable.set(reading.id, ppfd);
    else if (then === undefined) unusable.set(reading.id, BEFORE_CHANGE);
    else if (beside(reading)) unusable.set(reading.id, 'taken beside the shelf');
    else if (ppfd === 0) unusable.set(reading.id, NO_SCALE);
    else if (!(estimated > 0)) unusable.set(reading.id, 'taken where no lamp shines');
    else {
      const measured = (ppfd / then) * estimated;
      (stands === 'now' ? fresh : before).push({
        reading,
        measured,
        estimated,
        shared: deviationOf(luxUncertainty(reading)),
        sample: {
          x: reading.xMm / size,
          y: reading.yMm / size,
          shares: parts.map((part) => part / estimated),
          value: measured / estimated - 1,
          dark: 0,
        },
      });
    }
  });
  const carried = fresh.length === 0 && before.length > 0;
  if (!carried) {
    for (const { reading } of before) {
      const run = standing(reading) === 'earlier run';
      unusable.set(reading.id, run ? EARLIER_RUN : BEFORE_CHANGE);
    }
  }
  const rows = carried ? before : fresh;
  const brightest = Math.max(0, ...rows.map(({ estimated }) => estimated));
  const judged = rows.map((row) => ({
    ...row,
    sample: { ...row.sample, dark: (STRAY * brightest) / row.estimated },
  }));
  return { rows: judged, carried, unusable };
}
