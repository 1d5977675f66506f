import type { Notice } from '../../../../shared-types/notice';
import type { RotaPeriod } from '../../../../shared-types/light';
import type { Application } from '../../../../shared-types/trial/trial';
import { list } from '../../../words';
import type { Site } from '../site/site';
import { trialNotice } from '../trialNotice';
import type { LevelsAtPots } from './levelsAtPots';

/** Whether a treatment stays behind where it stands when a tray is carried away from it. */
const staysBehind: Record<Application, boolean> = {
  light: true,
  water: true,
  medium: false,
  plant: false,
  hand: false,
};

/** Trays that the rota carries to another level of a factor that hangs or flows at the place. */
export function moveNotices(
  site: Site,
  levelsAt: LevelsAtPots,
  rota: readonly RotaPeriod[],
): Notice[] {
  return site.trial.factors.flatMap((factor) => {
    if (factor.appliedThrough === undefined || !staysBehind[factor.appliedThrough]) return [];
    const levels = levelsAt(factor);
    if (!levels) return [];
    const moved = movedTrays(site, levels, rota);
    if (moved.length === 0) return [];
    return [
      trialNotice(
        'treatment-not-applied',
        'stop',
        [`factor:${factor.id}`],
        `The rota carries ${list(moved)} to another level of ${factor.name}. From then on those plants get a treatment that is not the one on their label.`,
        `Move trays only among places with the same level of ${factor.name}, or drop the rota in the light stage.`,
      ),
    ];
  });
}

/** `tray 1A on day 15`, each tray at its first such move. */
function movedTrays(
  { pots, unitOf, unitNames }: Site,
  levels: readonly (string | null)[],
  rota: readonly RotaPeriod[],
): string[] {
  const levelOf = new Map<string, string | null>();
  const nameOf = new Map<string, string>();
  pots.forEach((pot, i) => {
    levelOf.set(pot.trayId, levels[i] ?? null);
    nameOf.set(pot.trayId, unitNames.tray[unitOf.tray.classOf[i] ?? -1] ?? '');
  });
  const told = new Map<string, string>();
  for (const { fromDay, places } of rota) {
    for (const [trayId, { placeOf }] of Object.entries(places)) {
      const [own, there] = [levelOf.get(trayId), levelOf.get(placeOf)];
      if (!own || !there || own === there || told.has(trayId)) continue;
      told.set(trayId, `${(nameOf.get(trayId) ?? '').replace(/^T/, 't')} on day ${fromDay}`);
    }
  }
  return [...told.values()];
}
