import type { FloodZone, Medium } from '../../../shared-types/flood';
import type { Lamp, LampKind } from '../../../shared-types/rack';
import type { LevelSettings } from '../../../shared-types/trial/trial';
import { figure, list, percent, plural, trimmed, type Speech } from '../../words';
import { pumpRuns } from '../flood';

/** Lamps of a bay in words, like ones together: `2 × strip at 50 %`. */
export function lampWords(lamps: readonly Lamp[], kinds: readonly LampKind[]): string {
  if (lamps.length === 0) return 'no lamp';
  const counts = new Map<string, number>();
  for (const { kindId, dimming } of lamps) {
    const name = kinds.find(({ id }) => id === kindId)?.name ?? kindId;
    const one = `${name} at ${percent(dimming)}`;
    counts.set(one, (counts.get(one) ?? 0) + 1);
  }
  return list([...counts].map(([one, count]) => `${count} × ${one}`));
}

export const hoursWords = (hours: number): string => `${trimmed(hours, 2)} h a day`;

/** `40 mm deep, 4 floods a day`. */
export const floodWords = (zone: FloodZone, say: Speech): string =>
  `${say.length(zone.floodDepthMm)} deep, ${plural(pumpRuns(zone.schedule).length, 'flood')} a day`;

/** `strong feed, EC 2.1 mS/cm`; null where neither is said. */
export function solutionWords(of: {
  solution?: string | undefined;
  ecMsCm?: number | undefined;
}): string | null {
  const said = [
    ...(of.solution === undefined ? [] : [of.solution]),
    ...(of.ecMsCm === undefined ? [] : [`EC ${figure(of.ecMsCm)} mS/cm`]),
  ];
  return said.length > 0 ? said.join(', ') : null;
}

/** What a level sets, in words: `strip at 50 %, 12 h a day`; null where that is nothing. */
export function settingsWords(
  settings: LevelSettings,
  names: { lampKinds: readonly LampKind[]; media: readonly Pick<Medium, 'id' | 'name'>[] },
  say: Speech,
): string | null {
  const said = partsOf(settings, names, say).filter((part) => part !== null);
  return said.length > 0 ? said.join(', ') : null;
}

function partsOf(
  settings: LevelSettings,
  { lampKinds, media }: Parameters<typeof settingsWords>[1],
  say: Speech,
): (string | null)[] {
  switch (settings.through) {
    case 'light': {
      const { hanging, dimming, photoperiodHours } = settings;
      const kind = lampKinds.find(({ id }) => id === settings.lampKindId)?.name ?? null;
      return [
        hanging
          ? `${hanging.count} × ${kind ?? 'lamp'} hung ${say.length(hanging.heightMm)} up`
          : kind,
        dimming === undefined ? null : `output ${percent(dimming)}`,
        photoperiodHours === undefined ? null : hoursWords(photoperiodHours),
      ];
    }
    case 'water': {
      const { floodDepthMm, everyMinutes, onMinutes } = settings;
      return [
        solutionWords(settings),
        floodDepthMm === undefined ? null : `${say.length(floodDepthMm)} deep`,
        everyMinutes === undefined ? null : `every ${trimmed(everyMinutes, 2)} min`,
        onMinutes === undefined ? null : `pump on for ${trimmed(onMinutes, 2)} min`,
      ];
    }
    case 'medium':
      return [media.find(({ id }) => id === settings.mediumId)?.name ?? null];
    case 'hand': {
      const { potDiameterMm, potHeightMm } = settings;
      return [
        potDiameterMm === undefined ? null : `pots ${say.length(potDiameterMm)} across`,
        potHeightMm === undefined ? null : `pots ${say.length(potHeightMm)} high`,
      ];
    }
  }
}
