import type { FloodZone } from '../../../shared-types/flood';
import type { Plan } from '../../../shared-types/plan';
import { bind, together, type BoundCommand } from '../../document';
import { editZone } from '../../document/commands';
import {
  floodMends,
  staggered,
  type FloodFigures,
  zonePatchOf,
  type FloodMend,
  type MendStep,
  type PottedFlood,
  type TrayFlood,
  type ZoneFlood,
} from '../../engine/flood';
import { capital, list, speechIn, type Speech } from '../../words';
import { memo } from '../memo';
import type { Remedy } from '../remedies/remedy';
import { bareOf, planAsTreated } from '../treated';
import { floodOf } from './flood';

/** A button that mends zones; `whole`: nothing is wrong with them afterwards. */
export interface FloodRemedy extends Remedy {
  whole: boolean;
}

/** Zones alike in the figures that one knows, whatever their hours: they are looked at and set as one. */
export type AlikeZones = readonly [ZoneFlood, ...ZoneFlood[]];

const alikeMemo = memo((figures: FloodFigures): AlikeZones[] => {
  const alike = new Map<string, [ZoneFlood, ...ZoneFlood[]]>();
  for (const found of figures.zones) {
    const { reservoirL, drain, floodDepthMm, schedule } = found.zone;
    const times = schedule.map(({ onMinutes, everyMinutes }) => [onMinutes, everyMinutes]);
    const key = JSON.stringify([reservoirL, drain, floodDepthMm, times]);
    const known = alike.get(key);
    if (known) known.push(found);
    else alike.set(key, [found]);
  }
  return [...alike.values()];
});

/** The zones of some figures, those that are set alike together. */
export function alikeZonesOf(figures: FloodFigures): AlikeZones[] {
  return alikeMemo(figures);
}

type ZonePatch = Partial<Omit<FloodZone, 'id'>>;

/** Sets the same figures at several zones, as one step. */
export function setAlike(
  zones: readonly FloodZone[],
  patchFor: (zone: FloodZone) => ZonePatch,
): BoundCommand {
  const edits = zones.map((zone) => bind(editZone, { zoneId: zone.id, patch: patchFor(zone) }));
  return together(() => `Edit ${zones.length} zones`, edits);
}

/** What tells one zone from another by its figures: equal tubs are reckoned once. */
const likeness = ({ trays, zone }: ZoneFlood): string => {
  const { pump, pipe, deadVolumeL, residualMm, dischargeCoefficient } = zone;
  const own = [pump.curve, pipe, deadVolumeL, residualMm, dischargeCoefficient];
  return JSON.stringify([own, trays.map((tray) => figuresOf(tray))]);
};
const figuresOf = (tray: TrayFlood): number[] => {
  const { firstL, laterL, rimL, rimMm, liftM, vessel } = tray;
  return [
    firstL,
    laterL,
    rimL,
    rimMm,
    liftM,
    vessel.tilt.fallMm,
    vessel.pots.length,
    ...new Set(vessel.pots.map(({ heightMm }) => heightMm)),
  ];
};

// Each group's mends stay while its own figures do.
const mendsMemo = memo((flood: PottedFlood, zones: AlikeZones): FloodMend[] => {
  const [first, ...others] = new Map(zones.map((found) => [likeness(found), found])).values();
  if (!first) return [];
  const site = ({ zone, trays }: ZoneFlood) => ({
    zone,
    vessels: trays.map(({ vessel }) => vessel),
  });
  return floodMends(flood, [site(first), ...others.map(site)]);
}, 16);

/** What would mend the zones that are set like this one, on the rack as it stands, the best first. */
export function floodRemediesOf(plan: Plan, zoneId: string): FloodRemedy[] {
  const treated = planAsTreated(plan);
  const figures = floodOf(treated);
  if (!figures || !treated.flood) return [];
  const zones = alikeZonesOf(figures).find((some) => some.some(({ zone }) => zone.id === zoneId));
  if (!zones) return [];
  const all = bareOf(plan).flood?.zones ?? [];
  const drawn = zones.flatMap(({ zone }) => all.filter(({ id }) => id === zone.id));
  const say = speechIn(plan.display.lengths);
  return mendsMemo(treated.flood, zones)
    .filter(({ steps }) => zones.every(({ zone }) => canSet(steps, drawn, zone)))
    .map(({ steps, whole }) => ({
      label: capital(list(steps.map((step) => stepWords(step, say)))),
      command: setAlike(drawn, (zone) => zonePatchOf(zone, steps)),
      whole,
    }));
}

/** What a level of the trial sets is not set at the zone. */
function canSet(
  steps: readonly MendStep[],
  all: readonly FloodZone[],
  treated: FloodZone,
): boolean {
  const drawn = all.find(({ id }) => id === treated.id);
  if (!drawn) return false;
  const sameHours = JSON.stringify(drawn.schedule) === JSON.stringify(treated.schedule);
  return steps.every(({ of }) => {
    switch (of) {
      case 'on':
      case 'every':
        return sameHours;
      case 'depth':
        return drawn.floodDepthMm === treated.floodDepthMm;
      case 'reservoir':
      case 'overflow':
        return true;
    }
  });
}

function stepWords(step: MendStep, say: Speech): string {
  switch (step.of) {
    case 'on':
      return `run ${step.minutes} min`;
    case 'every':
      return step.minutes % 60 === 0 && step.minutes > 60
        ? `flood every ${step.minutes / 60} h`
        : `flood every ${step.minutes} min`;
    case 'reservoir':
      return `reservoir ${say.volume(step.litres)}`;
    case 'overflow':
      return `overflow ${say.length(step.mm)} wide`;
    case 'depth':
      return `flood depth ${say.length(step.mm)}`;
  }
}

/** Lets the zones flood one after the other; null where they do already, or the day is too short. */
export function staggerRemedyOf(plan: Plan): Remedy | null {
  const apart = staggered(bareOf(plan).flood?.zones ?? []);
  if (!apart) return null;
  const edits = [...apart].map(([zoneId, schedule]) =>
    bind(editZone, { zoneId, patch: { schedule } }),
  );
  return { label: 'Stagger the zones', command: together(() => 'Stagger the zones', edits) };
}
