import type { Assignment } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import type { PottedFlood } from '../flood';
import { treatedShelf } from './lamps';
import { repottedShelf } from './pots';
import { carriedLevels, type CarriedLevels, type TreatedView } from './levels';
import { treatedFlood } from './water';

/** What a rack as treated follows from: rack and flooding as drawn, the factors, who got what. */
export interface TreatedFrom extends Pick<Plan, 'rack' | 'flood'> {
  factors: readonly Factor[];
  assignments: readonly Assignment[];
}

/** Rack and flooding with what the levels set. */
export interface RackAsTreated {
  rack: Rack;
  flood: PottedFlood | null;
}

/**
 * The rack as a view has it: lamps and hours by bay, depth and schedule by reservoir, medium and pot
 * size by pot. Shelves, zones, and all of it, that no level changes are the objects they were. The
 * draw reads the rack as drawn, never this one.
 */
export function rackAsTreated(from: TreatedFrom, view: TreatedView): RackAsTreated {
  return treatedBy(from, carriedLevels(from, view));
}

export function treatedBy(
  { rack, flood }: Pick<Plan, 'rack' | 'flood'>,
  carried: readonly CarriedLevels[],
): RackAsTreated {
  const shelves = rack.shelves.map((shelf) =>
    repottedShelf(treatedShelf(shelf, rack.lampKinds, carried), carried),
  );
  const same = shelves.every((shelf, i) => shelf === rack.shelves[i]);
  return {
    rack: same ? rack : { ...rack, shelves },
    flood: flood && treatedFlood(rack, flood, carried),
  };
}

/** Whether any level says what it sets, so that views can differ. */
export const hasSettings = (trial: Trial | null): boolean =>
  trial?.factors.some(({ levels }) => levels.some(({ settings }) => settings)) ?? false;
