import type { Circuit } from '../../../shared-types/flood';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { floodFiguresOf, type FloodFigures } from './flood';
import type { Verdict } from './verdict';
import { circuitVerdict, loadVerdict, reservoirVerdict, trayVerdicts } from './verdicts';

/** All that is wrong or doubtful about the flooding; nothing for a plan without any. */
export function floodNotices(
  plan: Pick<Plan, 'rack' | 'flood'>,
  figures: FloodFigures | null = floodFiguresOf(plan),
): Notice[] {
  const { flood } = plan;
  if (!flood || !figures) return [];
  return [
    ...figures.zones.flatMap((zone) => [
      ...zone.trays.flatMap((tray) =>
        trayVerdicts(flood, tray).flatMap((verdict) => asNotice(verdict, [`tray:${tray.trayId}`])),
      ),
      ...asNotice(reservoirVerdict(zone), [`zone:${zone.zone.id}`]),
    ]),
    ...figures.loads.flatMap((load) => asNotice(loadVerdict(load), [`shelf:${load.shelf.id}`])),
    ...figures.circuits.flatMap((load) =>
      asNotice(circuitVerdict(load), connectedTo(load.circuit)),
    ),
  ];
}

function connectedTo(circuit: Circuit): string[] {
  const about = [
    ...circuit.shelfIds.map((id) => `shelf:${id}`),
    ...circuit.zoneIds.map((id) => `zone:${id}`),
  ];
  return about.length > 0 ? about : ['plan'];
}

function asNotice(verdict: Verdict, about: string[]): Notice[] {
  if (!verdict.notice) return [];
  const { kind, severity } = verdict.notice;
  const { text, remedy } = verdict;
  return [{ kind, severity, stage: 'flood', about, text, remedy }];
}
