import type { LightPlan } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import type { Rack, Reflectances, Shelf } from '../../../shared-types/rack';
import { canopyHeightMm, canopyOver } from '../../engine/geometry';
import type { ShelfInRoom } from '../../engine/lamps';
import {
  followPhotons,
  lampKwhPerDay,
  lightEnergy,
  shelfAfter,
  shelfField,
  shelfLight,
  shelfPotLight,
  type Evenness,
  type GroupScale,
  type LightBasis,
  type LightEnergy,
  type ShelfField,
} from '../../engine/light';
import { memo } from '../memo';
import { attempt, type Attempt } from '../trial/trial';

/** Usual diffuse reflectances of what a grower puts at a side (common practice). */
export const SIDE_KINDS = [
  { key: 'open', label: 'open', share: 0 },
  { key: 'white', label: 'matt white', share: 0.85 },
  { key: 'foil', label: 'foil', share: 0.9 },
] as const;

/** The reflectances with all four sides alike. */
function withSides(reflectances: Reflectances, share: number): Reflectances {
  return { ...reflectances, front: share, back: share, left: share, right: share };
}

export interface SidesInput {
  shelf: ShelfInRoom;
  lampKinds: Rack['lampKinds'];
  light: LightBasis;
}

/**
 * One shelf with its sides in one state, estimated from the lamps' figures and, where readings hold,
 * from what they say that the lamps give.
 */
export interface SidesResult {
  key: 'open' | 'white' | 'now';
  evenness: Evenness | null;
  field: ShelfField;
  /** Whether the scales of readings are in it. */
  scaled: boolean;
}

const MAP_GRID_MM = 30;

/** A shelf with nothing around it. */
function byItself(shelf: ShelfInRoom): Shelf {
  const {
    faces: _f,
    neighbours: _n,
    others: _o,
    theirs: _t,
    behind: _b,
    room: _r,
    ...plain
  } = shelf;
  return plain;
}

/**
 * Long work: a shelf's light with all sides open, all matt white, and as they are. All three with
 * the scales that readings give its lamps now and without their smooth correction, so that nothing
 * but the sides differs.
 * Throws where the shelf's lamps make no sense.
 */
export function sidesCompared({ shelf, lampKinds, light }: SidesInput): SidesResult[] {
  const states = [
    ['open', withSides(shelf.reflectances, 0)],
    ['now', shelf.reflectances],
    ['white', withSides(shelf.reflectances, SIDE_KINDS[1].share)],
  ] as const;
  const heightMm = canopyHeightMm(shelf, light.canopyAt);
  const { readings } = light;
  const now = shelfLight(shelf, lampKinds, { heightMm, reflected: true, readings });
  const scales = now.calibration?.scales ?? [];
  return states.map(([key, reflectances]) => {
    // Open and white are what they say, whatever the sides face now.
    const changed = key === 'now' ? shelf : { ...byItself(shelf), reflectances };
    const pots = shelfPotLight(changed, lampKinds, light, { scales });
    return {
      key,
      evenness: pots.shelves.get(shelf.id)?.evenness ?? null,
      field: mapOf(
        shelfAfter(changed, lampKinds, light, light.burntDays ?? 0),
        lampKinds,
        light.canopyAt,
        scales,
      ),
      scaled: scales.length > 0,
    };
  });
}

/** A small map of a shelf's estimated light. Throws where its lamps make no sense. */
export function mapOf(
  shelf: Shelf,
  lampKinds: Rack['lampKinds'],
  canopyAt: LightPlan['canopyAt'],
  scales: readonly GroupScale[],
): ShelfField {
  return shelfField(shelf, lampKinds, {
    heightMm: canopyHeightMm(shelf, canopyAt),
    heightAt: canopyOver(shelf, canopyAt),
    gridMm: MAP_GRID_MM,
    scales,
  });
}

const energyMemo = memo((rack: Rack, light: LightPlan, days: number) =>
  attempt(() => lightEnergy(rack, light, days)),
);

/** Electricity of the lamps a day, kWh: where their photons go takes long on a large rack. */
export const kwhPerDayOf = ({ rack, light }: Plan): Attempt<number> =>
  attempt(() => lampKwhPerDay(rack, light));

/** Follows the photons of all lamps, a shelf at each step, for `lightEnergyOf` to have them at once. */
export const photonsInSteps = ({ rack, light }: Plan): Generator<void> =>
  followPhotons(rack, light);

/** Electricity of the lamps over so many days, and where their photons go. */
export function lightEnergyOf(plan: Plan, days: number): Attempt<LightEnergy> {
  return energyMemo(plan.rack, plan.light, days);
}
