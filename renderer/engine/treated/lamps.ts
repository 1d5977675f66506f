import type { Lamp, LampKind, Shelf } from '../../../shared-types/rack';
import { bayAt, baysOf, type Bay } from '../geometry';
import type { HungShelf } from '../lamps';
import { settingsAt, type CarriedLevels } from './levels';
import { spreadEvenly } from './hanging';

/** The lamps that hang in a bay: those whose middle does. */
export function lampsHungIn(shelf: Shelf, bay: Bay): Lamp[] {
  const bays = baysOf(shelf);
  return shelf.lamps.filter(({ xMm, yMm }) => bayAt(bays, xMm, yMm).id === bay.id);
}

/**
 * A shelf with the lamps and hours that the levels on its bays set; the same object where they set
 * nothing new. A lamp of another kind is in a group of its own: what readings told of the lamps as
 * drawn does not hold for it.
 */
export function treatedShelf(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  carried: readonly CarriedLevels[],
): HungShelf {
  const bays = baysOf(shelf);
  const set = new Map(
    bays.flatMap((bay) => {
      const settings = settingsAt(carried, 'light', bay.id);
      return settings ? [[bay.id, settings] as const] : [];
    }),
  );
  if (set.size === 0) return shelf;
  const kindOf = (lamp: Lamp, kindId: string | undefined): Lamp =>
    kindId === undefined || kindId === lamp.kindId
      ? lamp
      : { ...lamp, kindId, group: `${lamp.group} ${kindId}`.trim() };
  const lamps = shelf.lamps.flatMap((lamp) => {
    const settings = set.get(bayAt(bays, lamp.xMm, lamp.yMm).id);
    if (!settings) return [lamp];
    if (settings.hanging) return [];
    const { dimming = lamp.dimming } = settings;
    const kept = kindOf(lamp, settings.lampKindId);
    return [dimming === kept.dimming ? kept : { ...kept, dimming }];
  });
  const hung = bays.flatMap((bay) => hungIn(shelf, bay, lampKinds, set.get(bay.id)));
  const timed = bays.some((bay) => hoursOf(bay) !== (bay.photoperiodHours ?? undefined));
  function hoursOf(bay: Bay): number | undefined {
    return set.get(bay.id)?.photoperiodHours ?? bay.photoperiodHours ?? undefined;
  }
  const lampsStay =
    hung.length === 0 &&
    lamps.length === shelf.lamps.length &&
    lamps.every((lamp, i) => lamp === shelf.lamps[i]);
  if (lampsStay && !timed) return shelf;
  return {
    ...shelf,
    drawn: shelf,
    lamps: lampsStay ? shelf.lamps : [...lamps, ...hung],
    ...(timed && {
      bays: bays.map((bay) => {
        const photoperiodHours = hoursOf(bay);
        return { id: bay.id, ...(photoperiodHours !== undefined && { photoperiodHours }) };
      }),
    }),
  };
}

type LightSettings = ReturnType<typeof settingsAt<'light'>>;

/** The lamps of a bay's own hanging; their ids are those of no lamp of the plan. */
function hungIn(
  shelf: Shelf,
  bay: Bay,
  lampKinds: readonly LampKind[],
  settings: LightSettings | undefined,
): Lamp[] {
  if (!settings?.hanging) return [];
  const kindId = settings.lampKindId ?? lampsHungIn(shelf, bay)[0]?.kindId;
  const kind = lampKinds.find(({ id }) => id === kindId) ?? lampKinds[0];
  if (!kind) return [];
  const { count, heightMm } = settings.hanging;
  return spreadEvenly(bay.rect, kind, count).map((place, i) => ({
    ...place,
    id: `${bay.id}-${i + 1}`,
    kindId: kind.id,
    zMm: heightMm,
    tiltDeg: 0,
    dimming: settings.dimming ?? 1,
    group: `hung in bay ${bay.name}`,
  }));
}
