import type { Drain, FloodWindow, FloodZone } from '../../../../shared-types/flood';
import type { Plan } from '../../../../shared-types/plan';
import { planAsGrown } from '../../../derive';
import { findTray, trayCode } from '../../../engine/geometry';
import { carriedLevels, settingsWords } from '../../../engine/treated';
import { clock, figure, list, percent, speechIn, trimmed, type Speech } from '../../../words';
import type { FindingsTable } from '../cells';
import { settingsTable } from './compact';

/** Every reservoir as treated: its trays, solution, floods, pump and drain. */
export function reservoirsTable(plan: Plan): FindingsTable | null {
  const { flood, rack, display } = planAsGrown(plan);
  const say = speechIn(display.lengths);
  const solutions = solutionsByZone(plan, say);
  return settingsTable({
    name: 'reservoirs',
    caption: 'Water',
    heads: [
      'Reservoir',
      'Trays',
      'Level and solution',
      'Volume',
      'Flood depth',
      'Pump runs',
      'Water level above the floor',
      'Pump',
      'Pipe',
      'Drain',
      'Coefficient of discharge',
    ],
    rows: (flood?.zones ?? []).map((zone) => [
      zone.name,
      list(
        zone.trayIds.flatMap((id) => {
          const found = findTray(rack, id);
          return found ? [trayCode(found.shelf.number, found.tray.letter)] : [];
        }),
      ),
      solutions.get(zone.id) ?? '',
      `${say.volume(zone.reservoirL)} (${say.volume(zone.deadVolumeL)} unusable)`,
      `${say.length(zone.floodDepthMm)}, ${say.length(zone.residualMm)} stays`,
      zone.schedule.map(windowWords).join('; '),
      say.length(zone.reservoirLevelMm),
      pumpWords(zone, say),
      `${say.run(zone.pipe.lengthM)}, bore ${say.length(zone.pipe.boreMm)}, losses ${figure(zone.pipe.lossFactor)} velocity heads`,
      drainWords(zone.drain, say),
      figure(zone.dischargeCoefficient),
    ]),
  });
}

function solutionsByZone(plan: Plan, say: Speech): Map<string, string> {
  const { rack, flood, trial, layout } = plan;
  if (!trial) return new Map();
  const from = { rack, flood, factors: trial.factors, assignments: layout?.assignments ?? [] };
  const names = { lampKinds: rack.lampKinds, media: flood?.media ?? [] };
  const carried = carriedLevels(from, { as: 'treated' }).filter(
    ({ factor }) => factor.appliedThrough === 'water',
  );
  return new Map(
    (flood?.zones ?? []).map(({ id }) => [
      id,
      carried
        .flatMap(({ factor, levelIds }) => factor.levels.filter((l) => l.id === levelIds.get(id)))
        .map(({ name, settings }) => {
          const set = settings ? settingsWords(settings, names, say) : null;
          return set ? `${name}: ${set}` : name;
        })
        .join('; '),
    ]),
  );
}

const windowWords = ({ startHour, endHour, everyMinutes, onMinutes }: FloodWindow): string =>
  `${clock(startHour)} to ${clock(endHour)}, every ${trimmed(everyMinutes, 2)} min for ${trimmed(onMinutes, 2)} min`;

function pumpWords({ pump }: FloodZone, say: Speech): string {
  const curve = pump.curve.map(
    ({ headM, flowLMin }) => `${say.flow(flowLMin)} at ${say.run(headM)}`,
  );
  return `${pump.name}, ${figure(pump.powerW)} W, ${list(curve)}`;
}

function drainWords(drain: Drain, say: Speech): string {
  switch (drain.kind) {
    case 'standpipe':
      return `standpipe, overflow bore ${say.length(drain.overflowBoreMm)}, return bore ${say.length(drain.returnBoreMm)} through ${drain.returnThrough === 'pump' ? 'the pump' : 'an open hole'}`;
    case 'siphon':
      return `bell siphon, bore ${say.length(drain.boreMm)}, outlet ${say.length(drain.dropMm)} below the floor, losses ${figure(drain.lossFactor)} velocity heads${drain.tripFlowLMin === null ? '' : `, trips from ${say.flow(drain.tripFlowLMin)}`}`;
    case 'valve':
      return `valve, bore ${say.length(drain.boreMm)}, shut while the pump runs`;
  }
}

/** Every medium, with what water and weight are reckoned from. */
export function mediaTable(plan: Plan): FindingsTable | null {
  const { flood, rack, display } = plan;
  const say = speechIn(display.lengths);
  return settingsTable({
    name: 'media',
    caption: 'Media',
    heads: ['Medium', 'Trays', 'Porosity', 'Water held', 'Dry density'],
    rows: (flood?.media ?? []).map((medium) => [
      medium.name,
      medium.trayIds.length === rack.shelves.flatMap(({ trays }) => trays).length
        ? 'all'
        : list(
            medium.trayIds.flatMap((id) => {
              const found = findTray(rack, id);
              return found ? [trayCode(found.shelf.number, found.tray.letter)] : [];
            }),
          ),
      percent(medium.porosity),
      percent(medium.waterAtDrainShare),
      say.density(medium.dryDensityKgM3),
    ]),
    ...(flood
      ? {
          note: `Root zone up to ${say.length(flood.rootZoneTopMm)}, leaves from ${say.length(flood.leafLineMm)} above the tray’s floor. Set-points only: delivered EC and pH by date are not in the plan.`,
        }
      : {}),
  });
}
