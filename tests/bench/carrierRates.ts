/**
 * How often a treatment that does nothing is called a difference where its levels share what they are
 * applied through: one reservoir, one shelf's lamps. Once as the program answers, once with every pot
 * an independent unit, in rehearsals of the very same harvests.
 */
import { rehearsePlanned } from '../../renderer/derive/trial/rehearsal';
import { trialNotices, type TrialInput } from '../../renderer/engine/trial';
import { Refusal } from '../../renderer/words';
import type { Application, Factor } from '../../shared-types/trial/trial';
import { domedLight, factorOf, inputOf, rackOf, trialOf } from '../builders/trialInput';

export interface CarrierCase {
  name: string;
  input: TrialInput;
  /** The unit by which the program is to judge; null where it is to refuse. */
  judgedBy: 'between shelves' | 'between reservoirs' | 'between trays' | null;
}

const zone = (n: number, shelves: readonly number[]) => ({
  id: `z${n}`,
  name: `Reservoir ${n}`,
  trayIds: shelves.flatMap((s) => [`t${s}01`, `t${s}02`]),
});

/** Two trays of 3 × 4 pots on each shelf, a factor of two levels meant for `unit`. */
function caseOf(
  shelves: number,
  unit: Factor['unit'],
  through: Application | null,
  zones: TrialInput['zones'],
): TrialInput {
  const rack = rackOf({ shelves, traysPerShelf: 2, rows: 3, columns: 4 });
  const factor = factorOf(1, unit, 2, {
    name: through === 'light' ? 'light' : 'feed',
    ...(through && { appliedThrough: through }),
  });
  return { ...inputOf(rack, trialOf([factor]), domedLight(rack, 0.2)), zones };
}

const each = [1, 2, 3, 4].map((n) => zone(n, [n]));

export const carrierCases: readonly CarrierCase[] = [
  {
    name: 'light on single pots, lit by the shelf',
    input: caseOf(4, 'pot', 'light', []),
    judgedBy: 'between shelves',
  },
  {
    name: 'feed on trays, a reservoir a level',
    input: caseOf(2, 'tray', 'water', each.slice(0, 2)),
    judgedBy: null,
  },
  {
    name: 'feed on trays, two reservoirs a level',
    input: caseOf(4, 'tray', 'water', each),
    judgedBy: 'between reservoirs',
  },
  {
    name: 'feed on trays, both levels from one reservoir',
    input: caseOf(4, 'tray', 'water', [zone(1, [1, 2, 3, 4])]),
    judgedBy: null,
  },
  {
    // What the case before is to a plan that knows of no reservoir: sound, with nothing to find.
    name: 'feed on trays, nothing said of reservoirs',
    input: caseOf(4, 'tray', null, []),
    judgedBy: 'between trays',
  },
];

export interface CarrierRates {
  runs: number;
  /** Kinds of the notices that stop the plan. */
  stops: string[];
  /** False alarms of the program's own answer; null where it gives none. */
  answer: { share: number; se: number } | null;
  /** Those of an analysis that takes each pot for an independent unit; null where nothing can be drawn. */
  potsAsUnits: { share: number; se: number } | null;
  judgedBy: string | null;
  refusal: string | null;
}

/** Plants differ by 1, trays by 0.5 and shelves, each with its reservoir, by 1 (standard deviations). */
export function carrierRates({ input }: CarrierCase, runs: number, seed: string): CarrierRates {
  const stops = trialNotices({ ...input, layout: null }).flatMap(({ kind, severity }) =>
    severity === 'stop' ? [kind] : [],
  );
  try {
    const [factor] = rehearsePlanned({
      ...input,
      wetDepthByPot: new Map(),
      model: {
        perUmol: 0.02,
        edgeEffect: -0.5,
        plantSd: 1,
        traySd: 0.5,
        shelfSd: 1,
        deadShare: 0.04,
        startCorrelation: 0,
      },
      effects: { levels: {}, interactions: [] },
      runs,
      seed,
    }).factors;
    if (!factor) throw new Error('the trial has a factor');
    return {
      runs,
      stops,
      answer: factor.falseAlarm,
      potsAsUnits: factor.potsAsUnits?.falseAlarm ?? null,
      judgedBy: factor.falseAlarm && factor.errorTerm,
      refusal: factor.falseAlarm ? null : factor.says,
    };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return {
      runs,
      stops,
      answer: null,
      potsAsUnits: null,
      judgedBy: null,
      refusal: error.message,
    };
  }
}
