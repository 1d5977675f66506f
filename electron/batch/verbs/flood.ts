import { floodOf } from '../../../renderer/derive';
import { trayCode } from '../../../renderer/engine/geometry';
import {
  circuitVerdict,
  clock,
  electricityCautions,
  loadCaseWords,
  loadVerdict,
  reservoirVerdict,
  trayVerdicts,
  type FloodFigures,
  type TrayFlood,
  type Verdict,
  type ZoneFlood,
} from '../../../renderer/engine/flood';
import type { FloodPlan } from '../../../shared-types/flood';
import type { Plan } from '../../../shared-types/plan';
import { BatchError } from '../batch-error';
import { readPlanFile } from '../inputs';
import type { Verb } from '../verb';

export const floodVerb: Verb = {
  name: 'flood',
  gives:
    'Filling, draining, siphons, reservoirs, load and the pumps’ day, for every zone and tray.',
  takes: ['PLAN'],
  options: {},
  async run(args) {
    const path = args.positional('PLAN');
    const plan = await readPlanFile(path);
    const figures = floodOf(plan);
    if (!plan.flood || !figures) {
      throw new BatchError(
        `${path}, flood`,
        'found null: the plan says nothing of flooding',
        'expected zones, media and circuits',
      );
    }
    const { flood } = plan;
    return {
      zones: figures.zones.map((zone) => zoneTable(flood, zone)),
      unflooded_trays: codesOf(plan, figures.unzonedTrayIds),
      timeline: timelineOf(figures),
      overlaps: figures.overlaps.map(({ names, times, pumpsW }) => ({
        zones: names,
        times: times.map((t) => ({ from: clock(t.startS / 3600), to: clock(t.endS / 3600) })),
        pumps_w: pumpsW,
      })),
      load: figures.loads.map((load) => ({
        shelf: load.shelf.number,
        dry_kg: load.casesKg.dry,
        drained_kg: load.casesKg.drained,
        flooded_kg: load.casesKg.flooded,
        blocked_to_rim_kg: load.casesKg.blocked,
        heaviest: loadCaseWords[load.heaviest],
        rated_kg: load.ratedKg,
        margin_share: load.marginShare,
        verdict: said(loadVerdict(load)),
      })),
      circuits: figures.circuits.map((load) => ({
        circuit: load.circuit.name,
        connected_w: load.totalW,
        current_a: load.currentA,
        breaker_a: load.circuit.breakerA,
        continuous_limit_a: load.continuousA,
        verdict: said(circuitVerdict(load)),
      })),
      cautions: electricityCautions.map(({ title, text }) => `${title}: ${text}`),
    };
  },
};

function zoneTable(flood: FloodPlan, z: ZoneFlood) {
  return {
    zone: z.zone.name,
    pump_flow_l_min: z.supply.point?.flowLMin ?? 0,
    pump_head_m: z.supply.point?.headM ?? null,
    reservoir_l: z.zone.reservoirL,
    reservoir_draw_l: z.drawL,
    uptake_l: z.uptakeL,
    evaporation_l: z.evaporationL,
    least_reservoir_l: z.leastReservoirL,
    pump_hours_per_day: z.pumpHoursPerDay,
    pump_kwh_per_day: z.kwhPerDay,
    verdict: said(reservoirVerdict(z)),
    trays: z.trays.map((tray) => trayTable(flood, tray)),
  };
}

function trayTable(flood: FloodPlan, tray: TrayFlood) {
  const { siphon } = tray;
  const depths = [...tray.potDepthMm.values()];
  return {
    tray: tray.code,
    inflow_l_min: tray.inflowLMin,
    lift_m: tray.liftM,
    volume_l: tray.firstL,
    volume_after_draining_l: tray.laterL,
    volume_to_rim_l: tray.rimL,
    fill_s: tray.fillFirstS,
    fill_after_draining_s: tray.fillLaterS,
    pump_on_s: tray.onS,
    drain_s: tray.drainS,
    pause_s: tray.pauseS,
    siphon: siphon && {
      starts: siphon.starts === null ? 'unknown' : siphon.starts ? 'yes' : 'no',
      breaks: siphon.breaks ? 'yes' : 'no',
      trip_flow_l_min: siphon.tripFlowLMin,
      full_flow_at_crest_l_min: siphon.fullAtCrestLMin,
      full_flow_at_break_l_min: siphon.fullAtBreakLMin,
      hangs_at_mm: siphon.hangsAtMm,
    },
    peak_mm: tray.peakMm,
    rim_mm: tray.rimMm,
    overtops: tray.spills,
    standing_between_floods_mm: tray.standingMm,
    wet_fraction_root_zone: tray.wetMean,
    wet_fraction_at_peak: tray.wetAtPeak,
    wet_time_share: tray.wetTime,
    pot_depth_min_mm: depths.length > 0 ? Math.min(...depths) : null,
    pot_depth_max_mm: depths.length > 0 ? Math.max(...depths) : null,
    verdicts: trayVerdicts(flood, tray).map(said),
  };
}

function said({ topic, level, text, remedy, notice }: Verdict) {
  return { topic, level, kind: notice?.kind ?? null, text, remedy };
}

function timelineOf(figures: FloodFigures) {
  return figures.zones
    .flatMap(({ zone, runs }) => runs.map((run) => ({ zone: zone.name, ...run })))
    .sort((a, b) => a.startS - b.startS)
    .map(({ zone, startS, endS }) => ({
      zone,
      from: clock(startS / 3600),
      to: clock(endS / 3600),
      start_s: startS,
      end_s: endS,
    }));
}

function codesOf(plan: Plan, trayIds: readonly string[]): string[] {
  return plan.rack.shelves.flatMap((shelf) =>
    shelf.trays
      .filter((tray) => trayIds.includes(tray.id))
      .map((tray) => trayCode(shelf.number, tray.letter)),
  );
}
