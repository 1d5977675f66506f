import type { Room } from '../../../../shared-types/rack';
import { bind, type BoundCommand } from '../../../document';
import { placeRack, setRoom } from '../../../document/commands';
import { boundsOf } from '../../../engine/geometry';
import { outlineOfRack, placedAt, type RackOfRoom } from './rackInRoom';

/** Room to walk around the racks, and a usual height, mm (common practice). */
const WALK_MM = 800;
const LEAST_SIDE_MM = 3000;
const USUAL_HEIGHT_MM = 2500;
const ABOVE_MM = 300;

/** A room about the racks as they stand, with room to walk; its surfaces are not known yet. */
export function roomAround(racks: readonly RackOfRoom[]): BoundCommand[] {
  const all = boundsOf(racks.map(outlineOfRack));
  const top = Math.max(...racks.flat().map((s) => s.heightMm + s.clearanceMm));
  const room: Room = {
    widthMm: Math.max(LEAST_SIDE_MM, Math.ceil(all.widthMm) + 2 * WALK_MM),
    depthMm: Math.max(LEAST_SIDE_MM, Math.ceil(all.depthMm) + 2 * WALK_MM),
    heightMm: Math.max(USUAL_HEIGHT_MM, Math.ceil(top) + ABOVE_MM),
  };
  const [byX, byY] = [
    Math.round((room.widthMm - all.widthMm) / 2 - all.xMm),
    Math.round((room.depthMm - all.depthMm) / 2 - all.yMm),
  ];
  return [
    bind(setRoom, { room }),
    ...racks.map((rack) => {
      const { xMm, yMm } = outlineOfRack(rack);
      const shelfIds = rack.map(({ id }) => id);
      return bind(placeRack, { shelfIds, place: placedAt(rack, xMm + byX, yMm + byY) });
    }),
  ];
}
