import type { Factor, Level } from '../../../shared-types/trial/trial';
import type { Plan } from '../../../shared-types/plan';
import { baysOf, potsOfRack } from '../geometry';
import { lightStamp } from '../lamps';
import { rackAsTreated, type TreatedFrom } from './treated';

/**
 * What a level makes of the whole rack, as text: two levels with the same text cannot differ, however
 * each is written down.
 */
export function effectKey(
  from: TreatedFrom & Pick<Plan, 'light'>,
  factor: Factor,
  level: Level,
): string {
  const { rack, flood } = rackAsTreated(
    { ...from, factors: [factor] },
    { as: 'level', factorId: factor.id, levelId: level.id },
  );
  const { photoperiodHours } = from.light;
  const shelves = rack.shelves.map((shelf) => [
    lightStamp(shelf, rack.lampKinds),
    ...baysOf(shelf).map((bay) => bay.photoperiodHours ?? photoperiodHours),
  ]);
  const zones = (flood?.zones ?? []).map((zone) => [zone.floodDepthMm, zone.schedule]);
  const media = potsOfRack(rack).map(
    ({ id, trayId }) =>
      flood?.potted?.get(id)?.mediumId ??
      flood?.media.find(({ trayIds }) => trayIds.includes(trayId))?.id ??
      null,
  );
  const { settings } = level;
  const solution = settings?.through === 'water' ? [settings.solution, settings.ecMsCm] : [];
  return JSON.stringify([shelves, zones, media, solution]);
}
