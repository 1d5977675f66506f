import type { Circuit, FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { floodFiguresOf, type FloodFigures } from './flood';
import type { FloodVerdict } from './verdicts/verdict';
import {
  circuitVerdict,
  loadVerdict,
  reservoirVerdict,
  rootZoneVerdicts,
  trayVerdicts,
} from './verdicts/verdicts';
import { noticesOfStage, speechIn } from '../../words';

const notice = noticesOfStage('flood');

/** All that is wrong or doubtful about the flooding; nothing for a plan without any. */
export function floodNotices(
  plan: Pick<Plan, 'rack' | 'flood' | 'display'>,
  figures: FloodFigures | null = floodFiguresOf(plan),
): Notice[] {
  const { flood } = plan;
  if (!flood || !figures) return [];
  const say = speechIn(plan.display.lengths);
  return [
    ...figures.zones.flatMap((zone) => [
      ...zone.trays.flatMap((tray) =>
        trayVerdicts(flood, tray, say).flatMap((verdict) =>
          asNotice(verdict, [`tray:${tray.trayId}`]),
        ),
      ),
      ...asNotice(reservoirVerdict(zone, say), [`zone:${zone.zone.id}`, ...traysIn(zone.zone)]),
    ]),
    ...rootZoneVerdicts(flood, figures.trays.values(), say).flatMap((verdict) =>
      asNotice(
        verdict,
        verdict.trayIds.map((id) => `tray:${id}`),
      ),
    ),
    ...figures.loads.flatMap((load) =>
      asNotice(loadVerdict(load, say), [`shelf:${load.shelf.id}`]),
    ),
    ...figures.circuits.flatMap((load) =>
      asNotice(circuitVerdict(load), connectedTo(flood, load.circuit)),
    ),
  ];
}

const traysIn = (zone: FloodZone) => zone.trayIds.map((id) => `tray:${id}`);

/** What hangs on a circuit; the trays of its pumps stand for them on the rack. */
function connectedTo(flood: FloodPlan, circuit: Circuit): string[] {
  const zones = flood.zones.filter((zone) => circuit.zoneIds.includes(zone.id));
  const about = [
    ...circuit.shelfIds.map((id) => `shelf:${id}`),
    ...zones.flatMap((zone) => [`zone:${zone.id}`, ...traysIn(zone)]),
  ];
  return about.length > 0 ? about : ['plan'];
}

function asNotice(verdict: FloodVerdict, about: string[]): Notice[] {
  if (!verdict.notice) return [];
  const { kind, severity } = verdict.notice;
  const { text, remedy } = verdict;
  return [notice(kind, severity, about, text, remedy)];
}
