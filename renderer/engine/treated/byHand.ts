import type { Factor } from '../../../shared-types/trial/trial';
import type { Plan } from '../../../shared-types/plan';
import { baysOf, type Bay } from '../geometry';
import { lightStamp } from '../lamps';
import { speechIn } from '../../words';
import { lampsHungIn } from './lamps';
import { carriedLevels, type CarriedLevels } from './levels';
import { treatedBy, type TreatedFrom } from './treated';
import { floodWords, hoursWords, lampWords } from './words';

type From = TreatedFrom & Pick<Plan, 'light' | 'display'>;

/**
 * Bays and reservoirs that are drawn otherwise than the level of a factor fixed by hand sets them, each
 * with both states in words. Media are left out: what a tray holds as drawn is for pots without a level.
 */
export function byHandAgainst(from: From, factor: Factor): string[] {
  const carried = carriedLevels({ ...from, factors: [factor] }, { as: 'treated' });
  const levelAt = (id: string) => levelName(carried, id);
  const treated = treatedBy(from, carried);
  const { lampKinds } = from.rack;
  const say = speechIn(from.display.lengths);
  const bays = from.rack.shelves.flatMap((shelf, s) => {
    const other = treated.rack.shelves[s];
    if (!other || other === shelf) return [];
    const sameLamps = lightStamp(shelf, lampKinds) === lightStamp(other, lampKinds);
    return baysOf(shelf).flatMap((bay, b) => {
      const now = baysOf(other)[b];
      const level = levelAt(bay.id);
      if (!now || level === null) return [];
      const state = (of: typeof shelf, at: Bay) =>
        `${lampWords(lampsHungIn(of, at), lampKinds)}, ${hoursWords(at.photoperiodHours ?? from.light.photoperiodHours)}`;
      const [drawn, set] = [state(shelf, bay), state(other, now)];
      if (drawn === set && sameLamps) return [];
      return [placeWords(`bay ${bay.name}`, level, drawn, set)];
    });
  });
  const zones = (from.flood?.zones ?? []).flatMap((zone, z) => {
    const other = treated.flood?.zones[z];
    const level = levelAt(zone.id);
    if (!other || other === zone || level === null) return [];
    return [placeWords(zone.name, level, floodWords(zone, say), floodWords(other, say))];
  });
  return [...bays, ...zones];
}

const placeWords = (place: string, level: string, drawn: string, set: string): string =>
  drawn === set
    ? `${place} (${level} hangs its lamps elsewhere)`
    : `${place} (${level}: ${set}; drawn: ${drawn})`;

function levelName(carried: readonly CarriedLevels[], carrierId: string): string | null {
  for (const { factor, levelIds } of carried) {
    const level = factor.levels.find(({ id }) => id === levelIds.get(carrierId));
    if (level) return level.name;
  }
  return null;
}
