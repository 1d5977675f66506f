import type { Circuit, FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { floodFiguresOf, type FloodFigures } from './flood';
import type { TrayFlood } from './tray/trayFlood';
import type { FloodVerdict } from './verdicts/verdict';
import {
  circuitVerdict,
  loadVerdict,
  reservoirVerdict,
  rootZoneVerdicts,
  trayVerdicts,
} from './verdicts/verdicts';
import { list, noticesOfStage, speechIn, type Speech } from '../../words';

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
    ...trayNotices(flood, figures, say),
    ...figures.zones.flatMap((zone) =>
      asNotice(reservoirVerdict(zone, say), [`zone:${zone.zone.id}`, ...traysIn(zone.zone)]),
    ),
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

/** Of trays with one flaw the first is told with its figures, and the others are listed. */
function trayNotices(flood: FloodPlan, figures: FloodFigures, say: Speech): Notice[] {
  const found = new Map<string, { first: Notice; trays: TrayFlood[] }>();
  for (const tray of figures.zones.flatMap(({ trays }) => trays)) {
    for (const verdict of trayVerdicts(flood, tray, say)) {
      for (const first of asNotice(verdict, [`tray:${tray.trayId}`])) {
        const key = `${first.kind} ${first.severity}`;
        const known = found.get(key);
        if (known) known.trays.push(tray);
        else found.set(key, { first, trays: [tray] });
      }
    }
  }
  return [...found.values()].map(({ first, trays }) => {
    const others = trays.slice(1).map(({ code }) => code);
    if (others.length === 0) return first;
    return {
      ...first,
      about: trays.map(({ trayId }) => `tray:${trayId}`),
      text: `${first.text} Likewise ${others.length === 1 ? 'tray' : 'trays'} ${list(others)}.`,
    };
  });
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
