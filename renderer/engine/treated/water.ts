import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { Rack } from '../../../shared-types/rack';
import { potsOfRack } from '../geometry';
import type { PottedFlood, Potting } from '../flood';
import { settingsAt, type CarriedLevels } from './levels';

/** The flooding with the depth and schedule and media that the levels set. */
export function treatedFlood(
  rack: Rack,
  flood: FloodPlan,
  carried: readonly CarriedLevels[],
): PottedFlood {
  const zones = flood.zones.map((zone) => treatedZone(zone, carried));
  const potted = pottedBy(rack, carried);
  if (potted.size === 0 && zones.every((zone, i) => zone === flood.zones[i])) return flood;
  return { ...flood, zones, ...(potted.size > 0 && { potted }) };
}

/** A zone whose day is empty floods around the clock once a level says how often. */
const WHOLE_DAY = { startHour: 0, endHour: 24, everyMinutes: 1440, onMinutes: 10 };

function treatedZone(zone: FloodZone, carried: readonly CarriedLevels[]): FloodZone {
  const settings = settingsAt(carried, 'water', zone.id);
  if (!settings) return zone;
  const { floodDepthMm = zone.floodDepthMm, everyMinutes, onMinutes } = settings;
  const timed = everyMinutes !== undefined || onMinutes !== undefined;
  if (!timed && floodDepthMm === zone.floodDepthMm) return zone;
  const windows = zone.schedule.length > 0 ? zone.schedule : timed ? [WHOLE_DAY] : [];
  return {
    ...zone,
    floodDepthMm,
    schedule: windows.map((window) => ({
      ...window,
      everyMinutes: everyMinutes ?? window.everyMinutes,
      onMinutes: onMinutes ?? window.onMinutes,
    })),
  };
}

function pottedBy(rack: Rack, carried: readonly CarriedLevels[]): Map<string, Potting> {
  const potted = new Map<string, Potting>();
  if (!carried.some(({ factor }) => factor.appliedThrough === 'medium')) return potted;
  for (const { id } of potsOfRack(rack)) {
    const medium = settingsAt(carried, 'medium', id);
    if (medium) potted.set(id, { mediumId: medium.mediumId });
  }
  return potted;
}
