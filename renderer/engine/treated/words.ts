import type { FloodZone } from '../../../shared-types/flood';
import type { Lamp, LampKind } from '../../../shared-types/rack';
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
