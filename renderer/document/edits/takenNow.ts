import { lightStamp } from '../../engine/lamps';
import type { LightReading } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';

/** Marks a reading of the shelf as taken of the lamps as they hang now. */
export function takenNow(plan: Plan, shelfId: string): Pick<LightReading, 'of'> {
  const shelf = plan.rack.shelves.find(({ id }) => id === shelfId);
  return shelf ? { of: lightStamp(shelf, plan.rack.lampKinds) } : {};
}
