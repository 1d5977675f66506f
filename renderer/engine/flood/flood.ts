import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import { vesselOf } from './tray/basin';
import { circuitLoad, type CircuitLoad } from './circuits';
import type { PottedFlood } from './tray/potted';
import { shelfLoad, type ShelfLoad } from './load';
import { runningTogether, type PumpRun } from './schedule';
import type { TrayFlood } from './tray/trayFlood';
import { zoneFlood, type ZoneFlood } from './zoneFlood';

/** Zones whose pumps run at the same time. */
export interface ZoneOverlap {
  zoneIds: string[];
  names: string[];
  times: PumpRun[];
  pumpsW: number;
}

/** All that the flood stage shows, reckoned from the plan. */
export interface FloodFigures {
  zones: ZoneFlood[];
  trays: ReadonlyMap<string, TrayFlood>;
  loads: ShelfLoad[];
  circuits: CircuitLoad[];
  overlaps: ZoneOverlap[];
  /** Ids of trays, shelves with lamps and zones that nothing is stated for. */
  unzonedTrayIds: string[];
  uncircuitedShelfIds: string[];
  uncircuitedZoneIds: string[];
}

/** The flooding of a rack, pots that differ from their tray's counted as they are. */
export function floodFigures(rack: Rack, flood: PottedFlood): FloodFigures {
  const vessels = rack.shelves.flatMap((shelf) =>
    shelf.trays.map((tray) => vesselOf(flood, shelf, tray)),
  );
  const zones = flood.zones.map((zone) =>
    zoneFlood(
      flood,
      zone,
      vessels.filter((v) => zone.trayIds.includes(v.tray.id)),
    ),
  );
  const trays = new Map(zones.flatMap((z) => z.trays.map((t) => [t.trayId, t] as const)));
  const wired = (of: 'shelfIds' | 'zoneIds') => new Set(flood.circuits.flatMap((c) => c[of]));
  const wiredShelves = wired('shelfIds');
  const wiredZones = wired('zoneIds');
  return {
    zones,
    trays,
    loads: rack.shelves.map((shelf) =>
      shelfLoad(
        flood,
        rack,
        shelf,
        vessels.filter((v) => v.shelf.id === shelf.id),
        [...trays.values()],
      ),
    ),
    circuits: flood.circuits.map((circuit) => circuitLoad(flood, rack, circuit)),
    overlaps: zoneOverlaps(zones),
    unzonedTrayIds: vessels.map((v) => v.tray.id).filter((id) => !trays.has(id)),
    uncircuitedShelfIds: rack.shelves
      .filter((s) => s.lamps.length > 0 && !wiredShelves.has(s.id))
      .map((s) => s.id),
    uncircuitedZoneIds: flood.zones.filter((z) => !wiredZones.has(z.id)).map((z) => z.id),
  };
}

/** The same for a plan; null where it says nothing of flooding. */
export function floodFiguresOf(plan: Pick<Plan, 'rack' | 'flood'>): FloodFigures | null {
  return plan.flood ? floodFigures(plan.rack, plan.flood) : null;
}

function zoneOverlaps(zones: readonly ZoneFlood[]): ZoneOverlap[] {
  return runningTogether(zones.map((zone) => zone.runs)).map(({ members, times }) => {
    const those = zones.filter((_, i) => members.includes(i)).map(({ zone }) => zone);
    return {
      zoneIds: those.map((zone) => zone.id),
      names: those.map((zone) => zone.name),
      times,
      pumpsW: those.reduce((sum, zone) => sum + zone.pump.powerW, 0),
    };
  });
}
