import type { LampKind, Rack, Shelf } from '../../../shared-types/rack';
import type { Plan } from '../../../shared-types/plan';
import {
  mergedPotLight,
  shelfPotLight,
  shelvesInRoom,
  type GroupScale,
  type LightBasis,
  type PotLight,
} from '../../engine/light';
import { memo } from '../memo';
import { burntDaysOf } from './burntDays';

/**
 * What comes straight from the lamps, each group by what readings made of it in a settled plan: a
 * lamp that is dragged gives what it gave before.
 */
export interface DirectLight {
  settled: Plan;
}

/** What is counted: all the light, or the direct light alone (quick, for a drag). */
export type LightCounted = 'reflected' | DirectLight;

/** Direct light with the scales of a settled plan; one and the same for one plan. */
export const directLight = memo((settled: Plan): DirectLight => ({ settled }));

const NO_SCALES: readonly GroupScale[] = [];

/** The factors that stand in for a shelf's readings; null where its readings are asked. */
export function scalesFor(counted: LightCounted, shelfId: string): readonly GroupScale[] | null {
  return counted === 'reflected' ? null : scalesOf(counted.settled, shelfId);
}

/** What its readings make of a shelf's lamp groups; none where no reading holds. */
export function scalesOf(plan: Plan, shelfId: string): readonly GroupScale[] {
  return potLightOf(plan).calibrations.get(shelfId)?.scales ?? NO_SCALES;
}

// A price, a target or a tray move changes no light: figures are kept by what they rest on alone.
const basisMemo = memo(
  (
    canopyAt: LightBasis['canopyAt'],
    photoperiodHours: number,
    readings: LightBasis['readings'],
    burntDays: number,
  ): LightBasis => ({ canopyAt, photoperiodHours, readings, burntDays }),
  6,
);

// Shelf by shelf, so that dragging one lamp leaves the other shelves as they are.
const shelfMemo = memo(
  (
    shelf: Shelf,
    lampKinds: readonly LampKind[],
    light: LightBasis,
    scales: readonly GroupScale[] | null,
  ): PotLight => shelfPotLight(shelf, lampKinds, light, scales ? { reflected: false, scales } : {}),
  // Of 200 shelves as drawn and as treated: with fewer, one edit would compute all of them anew.
  480,
);

const potLightMemo = memo(
  (rack: Rack, light: LightBasis, counted: LightCounted): PotLight =>
    mergedPotLight(
      shelvesInRoom(rack).map((shelf) =>
        shelfMemo(shelf, rack.lampKinds, light, scalesFor(counted, shelf.id)),
      ),
    ),
  6,
);

/** What the plan's light rests on besides the rack; one and the same for one such light. */
export function lightBasisOf(plan: Plan): LightBasis {
  const { canopyAt, photoperiodHours, readings } = plan.light;
  return basisMemo(canopyAt, photoperiodHours, readings, burntDaysOf(plan, canopyAt));
}

/** Light at every pot, and summaries by tray and shelf. */
export function potLightOf(plan: Plan, counted: LightCounted = 'reflected'): PotLight {
  return potLightMemo(plan.rack, lightBasisOf(plan), counted);
}

/**
 * Works out the light, a shelf at each step: what asks for it afterwards has
 * it at once.
 */
export function* lightInSteps(plan: Plan): Generator<void> {
  const { rack } = plan;
  const light = lightBasisOf(plan);
  for (const shelf of shelvesInRoom(rack)) {
    shelfMemo(shelf, rack.lampKinds, light, null);
    yield;
  }
}

const ppfdMemo = memo(
  (light: PotLight): ReadonlyMap<string, number> =>
    new Map([...light.pots].map(([id, value]) => [id, value.ppfdUmol])),
);

export function ppfdByPotOf(plan: Plan): ReadonlyMap<string, number> {
  return ppfdMemo(potLightOf(plan));
}
