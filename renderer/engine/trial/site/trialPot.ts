import type { FloodZone } from '../../../../shared-types/flood';
import type { Rack } from '../../../../shared-types/rack';
import type { UnitKind } from '../../../../shared-types/trial/trial';
import type { Pot } from '../../geometry';
import { measuredPots } from '../measuredPots';
import { partitionBy, type Partition } from './partition';

/** What the trial needs to know of a flood zone. */
export type ZoneTrays = Pick<FloodZone, 'id' | 'name' | 'trayIds'>;

/** A measured pot with what waters it: a flood zone's id, or its tray's where no zone does. */
export type TrialPot = Pot & { zoneId: string };

/** The zone that floods each tray, by tray id. */
export const zoneByTray = (zones: readonly ZoneTrays[]): Map<string, ZoneTrays> =>
  new Map(zones.flatMap((zone) => zone.trayIds.map((id) => [id, zone] as const)));

const known = new WeakMap<Rack, { zones: readonly ZoneTrays[]; pots: readonly TrialPot[] }>();

export function trialPotsOf(rack: Rack, zones: readonly ZoneTrays[]): readonly TrialPot[] {
  const last = known.get(rack);
  if (last?.zones === zones) return last.pots;
  const zoneOf = zoneByTray(zones);
  const pots = measuredPots(rack).map((pot) => ({
    ...pot,
    zoneId: zoneOf.get(pot.trayId)?.id ?? pot.trayId,
  }));
  known.set(rack, { zones, pots });
  return pots;
}

/** Units that a pot names by itself; where strips run depends on blocks and factors. */
export type PlacedUnit = Exclude<UnitKind, 'row-strip' | 'column-strip'>;

/** The id that a `where` entry of a fixed factor names for this pot. */
export function unitIdOf(pot: TrialPot, unit: UnitKind): string {
  switch (unit) {
    case 'shelf':
      return pot.shelfId;
    case 'zone':
      return pot.zoneId;
    case 'bay':
      return pot.bayId;
    case 'tray':
      return pot.trayId;
    case 'row-strip':
    case 'column-strip':
    case 'pot':
      return pot.id;
  }
}

export const partitionInto = (unit: PlacedUnit, pots: readonly TrialPot[]): Partition =>
  partitionBy(pots.map((pot) => unitIdOf(pot, unit)));
