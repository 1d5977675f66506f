import type { FloodZone } from '../../../../shared-types/flood';
import type { NoticeKind } from '../../../../shared-types/notice';
import { speechIn } from '../../../words';
import type { TrayVessel } from '../tray/basin';
import type { PottedFlood } from '../tray/potted';
import type { FloodVerdict } from '../verdicts/verdict';
import { reservoirVerdict, trayVerdicts } from '../verdicts/verdicts';
import { zoneFlood, type ZoneFlood } from '../zoneFlood';

/** How often zones, their trays and reservoirs have each flaw; notes are none. */
export type Flaws = ReadonlyMap<NoticeKind, number>;

/** A zone with its trays as vessels. */
export interface ZoneAsTried {
  zone: FloodZone;
  vessels: readonly TrayVessel[];
}

/** Zones that are set alike, reckoned as they would be, with what is wrong with them. */
export interface Tried {
  sites: readonly ZoneAsTried[];
  found: readonly ZoneFlood[];
  flaws: Flaws;
}

// Only whether something is wrong is asked here, not how it is said.
const say = speechIn('metric');

export function tried(flood: PottedFlood, sites: readonly ZoneAsTried[]): Tried {
  const found = sites.map(({ zone, vessels }) => zoneFlood(flood, zone, vessels));
  const flaws = new Map<NoticeKind, number>();
  const count = ({ notice }: FloodVerdict) => {
    if (!notice || notice.severity === 'note') return;
    flaws.set(notice.kind, (flaws.get(notice.kind) ?? 0) + 1);
  };
  for (const zone of found) {
    for (const tray of zone.trays) trayVerdicts(flood, tray, say).forEach(count);
    count(reservoirVerdict(zone, say));
  }
  return { sites, found, flaws };
}

/** Whether one has fewer flaws than another and none that the other has not. */
export function isBetter(one: Flaws, other: Flaws): boolean {
  for (const [kind, count] of one) if (count > (other.get(kind) ?? 0)) return false;
  return [...other].some(([kind, count]) => (one.get(kind) ?? 0) < count);
}
