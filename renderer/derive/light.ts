import type { LampKind, Rack, Shelf } from '../../shared-types/rack';
import type { Plan } from '../../shared-types/plan';
import { mergedPotLight, shelfPotLight, type LightBasis, type PotLight } from '../engine/light';
import { memo } from './memo';

/** What is counted: all the light, or what comes straight from the lamps (quick, for a drag). */
export type Counted = 'reflected' | 'direct';

// A price, a target or a tray move changes no light: figures are kept by what they rest on alone.
const basisMemo = memo(
  (
    canopyAt: LightBasis['canopyAt'],
    photoperiodHours: number,
    readings: LightBasis['readings'],
  ): LightBasis => ({ canopyAt, photoperiodHours, readings }),
  6,
);

// Shelf by shelf, so that dragging one lamp leaves the other shelves as they are.
const shelfMemo = memo(
  (shelf: Shelf, lampKinds: readonly LampKind[], light: LightBasis, counted: Counted): PotLight =>
    shelfPotLight(shelf, lampKinds, light, { reflected: counted === 'reflected' }),
  120,
);

const potLightMemo = memo(
  (rack: Rack, light: LightBasis, counted: Counted): PotLight =>
    mergedPotLight(rack.shelves.map((shelf) => shelfMemo(shelf, rack.lampKinds, light, counted))),
  6,
);

/** Light at every pot, and summaries by tray and shelf. */
export function potLightOf(plan: Plan, counted: Counted = 'reflected'): PotLight {
  const { canopyAt, photoperiodHours, readings } = plan.light;
  return potLightMemo(plan.rack, basisMemo(canopyAt, photoperiodHours, readings), counted);
}

const ppfdMemo = memo(
  (light: PotLight): ReadonlyMap<string, number> =>
    new Map([...light.pots].map(([id, value]) => [id, value.ppfdUmol])),
);

export function ppfdByPotOf(plan: Plan): ReadonlyMap<string, number> {
  return ppfdMemo(potLightOf(plan));
}
