import { lightStamp, shelfInRoom } from '../../engine/lamps';
import { rackAsTreated } from '../../engine/treated';
import type { LightReading } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';

/**
 * Marks a reading of the shelf as taken of the lamps as they hang now: as treated once the plants
 * stand, as drawn before.
 */
export function takenNow(plan: Plan, shelfId: string): Pick<LightReading, 'of'> {
  const { rack, flood, trial, layout } = plan;
  const factors = trial?.factors ?? [];
  const assignments = layout?.assignments ?? [];
  const now = layout?.plantedAt
    ? rackAsTreated({ rack, flood, factors, assignments }, { as: 'treated' }).rack
    : rack;
  const shelf = now.shelves.find(({ id }) => id === shelfId);
  return shelf ? { of: lightStamp(shelfInRoom(shelf, now), rack.lampKinds) } : {};
}
