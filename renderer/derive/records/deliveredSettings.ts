import type { DeliveredMeasure } from '../../../shared-types/delivered';
import type { Layout } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import type { Factor } from '../../../shared-types/trial/trial';
import type { DeliveredUnit } from '../../document/queries/deliveredUnits';
import type { Setting } from '../../engine/delivered';
import { baysOf } from '../../engine/geometry';
import type { PotLight } from '../../engine/light';
import { carriedLevels, settingsAt } from '../../engine/treated';
import { trialPotsOf, unitIdOf, zoneByTray } from '../../engine/trial';

/** What settings of units follow from. */
export interface SettingsFrom extends Pick<Plan, 'rack' | 'flood'> {
  /** As the treatments make it. */
  treatedRack: Plan['rack'];
  factors: readonly Factor[];
  assignments: Layout['assignments'];
  photoperiodHours: number;
  potLight: PotLight;
}

export type UnitSettings = ReadonlyMap<string, Partial<Record<DeliveredMeasure, Setting>>>;

/**
 * What the plan has for each unit, by its id: EC as a level sets it, lamp hours as timed, PPFD as
 * computed or read, with its ±. Of pH and temperature a plan says nothing.
 */
export function settingsOf(from: SettingsFrom): UnitSettings {
  const { rack, flood, treatedRack, potLight, photoperiodHours } = from;
  const carried = carriedLevels(from, { as: 'treated' });
  const ecOf = (zoneId: string | undefined) => {
    const ec = zoneId === undefined ? undefined : settingsAt(carried, 'water', zoneId)?.ecMsCm;
    return ec === undefined ? {} : { ec: { value: ec, plusMinus: 0 } };
  };
  const ppfdOf = (id: string, of: 'bays' | 'trays') => {
    const light = potLight[of].get(id);
    const mean = light?.evenness?.mean ?? 0;
    if (!light || mean <= 0) return {};
    const plusMinus = (mean * (light.uncertainty.plusMinusPercent ?? 0)) / 100;
    return { ppfd: { value: mean, plusMinus } };
  };
  const zoneOf = zoneByTray(flood?.zones ?? []);
  return new Map<string, Partial<Record<DeliveredMeasure, Setting>>>([
    ...(flood?.zones ?? []).map(({ id }) => [id, ecOf(id)] as const),
    ...treatedRack.shelves.flatMap((shelf) =>
      baysOf(shelf).map(({ id, photoperiodHours: own }) => {
        const hours = { value: own ?? photoperiodHours, plusMinus: 0 };
        return [id, { ...ppfdOf(id, 'bays'), ...(shelf.lamps.length > 0 && { hours }) }] as const;
      }),
    ),
    ...rack.shelves.flatMap(({ trays }) =>
      trays.map(({ id }) => [id, { ...ecOf(zoneOf.get(id)?.id), ...ppfdOf(id, 'trays') }] as const),
    ),
  ]);
}

/**
 * Names of groups by unit id, one measure: units of one kind that have the same level of every factor
 * of which the plan does not say what it does to the measure.
 */
export function alikeIn(
  measure: DeliveredMeasure,
  units: readonly DeliveredUnit[],
  { rack, flood, factors, assignments }: SettingsFrom,
): ReadonlyMap<string, string> {
  const open = factors.filter((factor) => mightSet(factor, measure));
  const drawn = new Map(assignments.map(({ potId, levels }) => [potId, levels]));
  const pots = trialPotsOf(rack, flood?.zones ?? []);
  return new Map(
    units.map(({ id, kind }) => {
      const own = open.length === 0 ? [] : pots.filter((pot) => unitIdOf(pot, kind) === id);
      const levels = open.map((factor) => {
        const found = new Set(own.map((pot) => drawn.get(pot.id)?.[factor.id]));
        return found.size === 1 ? ([...found][0] ?? '') : 'several';
      });
      return [id, [kind, ...levels].join(' ')];
    }),
  );
}

/** Whether levels of a factor may differ in a measure without the plan saying by how much. */
function mightSet({ appliedThrough, levels }: Factor, measure: DeliveredMeasure): boolean {
  const ofWater = measure === 'ec' || measure === 'ph';
  switch (appliedThrough) {
    case undefined:
    case 'hand':
      return true;
    case 'light':
      return (
        (measure === 'hours' || measure === 'ppfd') && levels.some(({ settings }) => !settings)
      );
    case 'water': {
      const set = levels.map(({ settings }) =>
        settings?.through === 'water' ? settings : undefined,
      );
      if (measure === 'ec') return set.some((one) => one?.ecMsCm === undefined);
      const solutions = new Set(set.map((one) => one?.solution));
      return measure === 'ph' && (set.includes(undefined) || solutions.size > 1);
    }
    case 'medium':
      return ofWater;
    case 'plant':
      return false;
  }
}
