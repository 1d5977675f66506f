import type { FloodZone } from '../../../shared-types/flood';
import type { TrayVessel } from './tray/basin';
import { pipeLossM } from './tray/pipe';
import { highestHeadM, workingPoint } from './pump';

/** What the pump of a zone gives, and to whom. */
export interface Supply {
  /** Flow and head with all reached trays filling together; null where none is reached. */
  point: { flowLMin: number; headM: number } | null;
  highestHeadM: number;
  /** From the reservoir's water up to the crest, by tray id, m. */
  liftM: ReadonlyMap<string, number>;
  /** L/min by tray id; 0 where the lift is out of the pump's reach. */
  inflowLMin: ReadonlyMap<string, number>;
}

/** From the reservoir's water to the crest of the tray, m. */
export function liftOf(zone: FloodZone, vessel: TrayVessel): number {
  return (vessel.shelf.heightMm + zone.floodDepthMm - zone.reservoirLevelMm) / 1000;
}

/**
 * Flow to each tray of a zone. Its trays are taken to be throttled so that they fill together: each
 * gets flow in proportion to the water it needs to the crest, and the pump works against the
 * highest tray that it reaches. A lift below 0 is taken as 0: a pump is not a turbine.
 */
export function supplyOf(zone: FloodZone, vessels: readonly TrayVessel[]): Supply {
  const liftM = new Map(vessels.map((v) => [v.tray.id, liftOf(zone, v)]));
  const most = highestHeadM(zone.pump);
  const reached = vessels.filter((v) => Math.max(0, liftM.get(v.tray.id) ?? 0) < most);
  const lift = Math.max(0, ...reached.map((v) => liftM.get(v.tray.id) ?? 0));
  const point =
    reached.length === 0
      ? null
      : workingPoint(zone.pump, lift, (flow) => pipeLossM(zone.pipe, flow));
  const need = (v: TrayVessel) => v.first.volumeL(Math.min(zone.floodDepthMm, v.first.rimMm));
  const total = reached.reduce((sum, v) => sum + need(v), 0);
  // Where pots leave no room for water at all, none of the trays needs more than another.
  const shareOf = (v: TrayVessel) => (total > 0 ? need(v) / total : 1 / reached.length);
  const inflowLMin = new Map(
    vessels.map((v) => [v.tray.id, point && reached.includes(v) ? point.flowLMin * shareOf(v) : 0]),
  );
  return { point, highestHeadM: most, liftM, inflowLMin };
}
