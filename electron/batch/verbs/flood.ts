import { floodOf } from '../../../renderer/derive';
import { trayCode } from '../../../renderer/engine/geometry';
import {
  circuitVerdict,
  electricityCautions,
  loadCaseWords,
  loadVerdict,
  reservoirVerdict,
  rootZoneVerdicts,
  trayVerdicts,
  type FloodFigures,
  type PumpRun,
  type ShelfLoad,
  type TrayFlood,
  type FloodVerdict,
  type ZoneFlood,
} from '../../../renderer/engine/flood';
import type { FloodPlan } from '../../../shared-types/flood';
import type { Plan } from '../../../shared-types/plan';
import { BatchError } from '../batchError';
import { asAsked, blindedInResult } from '../asAsked';
import { readPlanFile } from '../inputs';
import { inRunAsked, runInResult, runOption } from '../runAsked';
import type { Verb } from '../verb';
import { clock, type Speech, speechIn } from '../../../renderer/words';

export const floodVerb: Verb = {
  name: 'flood',
  gives:
    'Filling, draining, siphons, reservoirs, load and the pumps’ day, for every zone and tray. ' +
    'Of the rack as treated where there is a layout; --bare, and while the trial is blinded: as drawn.',
  takes: ['PLAN'],
  options: { bare: 'flag', ...runOption },
  async run(args) {
    const path = args.positional('PLAN');
    const plan = asAsked(
      inRunAsked(await readPlanFile(path), args.optional('run')),
      args.flag('bare'),
    );
    const figures = floodOf(plan);
    if (!plan.flood || !figures) {
      throw new BatchError(
        `${path}, flood`,
        'found null: the plan says nothing of flooding',
        'expected zones, media and circuits',
      );
    }
    return floodTable(plan, plan.flood, figures);
  },
};

/** Fields are in the units of their names; sentences are in those that the plan is shown in. */
function floodTable(plan: Plan, flood: FloodPlan, figures: FloodFigures) {
  const say = speechIn(plan.display.lengths);
  return {
    ...runInResult(plan),
    ...blindedInResult(plan),
    zones: figures.zones.map((zone) => zoneTable(flood, figures, zone, say)),
    remarks: rootZoneVerdicts(flood, figures.trays.values(), say).map(said),
    unflooded_trays: codesOf(plan, figures.unzonedTrayIds),
    timeline: timelineOf(figures),
    overlaps: figures.overlaps.map(({ names, times: together, pumpsW }) => ({
      zones: names,
      times: together.map(times),
      pumps_w: pumpsW,
    })),
    load: figures.loads.map((load) => ({
      shelf: load.shelf.number,
      ...weights(load.casesKg),
      heaviest: loadCaseWords[load.heaviest],
      rated_kg: load.ratedKg,
      margin_kg: load.margin?.spare ?? null,
      margin_share: load.margin?.share ?? null,
      verdict: said(loadVerdict(load, say)),
    })),
    circuits: figures.circuits.map((load) => ({
      circuit: load.circuit.name,
      connected_w: load.totalW,
      current_a: load.currentA,
      breaker_a: load.circuit.breakerA,
      continuous_limit_a: load.continuousA,
      margin_a: load.margin.spare,
      margin_share: load.margin.share,
      verdict: said(circuitVerdict(load)),
    })),
    cautions: electricityCautions.map(({ title, text }) => `${title}: ${text}`),
  };
}

function zoneTable(flood: FloodPlan, figures: FloodFigures, z: ZoneFlood, say: Speech) {
  return {
    zone: z.zone.name,
    pump_flow_l_min: z.supply.point?.flowLMin ?? 0,
    pump_head_m: z.supply.point?.headM ?? null,
    volume_l: z.trays.reduce((sum, tray) => sum + tray.firstL, 0),
    fill_s: slowest(z.trays.map((tray) => tray.fillFirstS)),
    drain_s: slowest(z.trays.map((tray) => tray.drainS)),
    reservoir_l: z.zone.reservoirL,
    reservoir_draw_l: z.drawL,
    uptake_l: z.uptakeL,
    evaporation_l: z.evaporationL,
    // Between two top-ups, as is what is used up.
    spilled_l: z.spilledL,
    needed_l: z.neededL,
    least_reservoir_l: z.leastReservoirL,
    // On the day before a top-up.
    runs_dry: z.dry.map(times),
    reservoir_margin_l: z.margin.spare,
    reservoir_margin_share: z.margin.share,
    pump_hours_per_day: z.pumpHoursPerDay,
    pump_kwh_per_day: z.kwhPerDay,
    verdict: said(reservoirVerdict(z, say)),
    trays: z.trays.map((tray) => trayTable(flood, figures.loads, tray, say)),
  };
}

function trayTable(flood: FloodPlan, loads: readonly ShelfLoad[], tray: TrayFlood, say: Speech) {
  const { siphon } = tray;
  const depths = [...tray.potDepthMm.values()];
  const kg = loads.find((load) => load.shelf.id === tray.shelfId)?.trayKg.get(tray.trayId);
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
    fill_margin_s: tray.fillMargin?.spare ?? null,
    fill_margin_share: tray.fillMargin?.share ?? null,
    drain_s: tray.drainS,
    pause_s: tray.pauseS,
    drain_margin_s: tray.drainMargin?.spare ?? null,
    drain_margin_share: tray.drainMargin?.share ?? null,
    siphon: siphon && {
      starts: siphon.starts === null ? 'unknown' : siphon.starts ? 'yes' : 'no',
      breaks: siphon.breaks ? 'yes' : 'no',
      trip_flow_l_min: siphon.tripFlowLMin,
      full_flow_at_crest_l_min: siphon.fullAtCrestLMin,
      full_flow_at_break_l_min: siphon.fullAtBreakLMin,
      hangs_at_mm: siphon.hangsAtMm,
    },
    crest_mm: tray.zone.floodDepthMm,
    peak_mm: tray.peakMm,
    rim_mm: tray.rimMm,
    rim_margin_mm: tray.rimMm - tray.peakMm,
    reaches_from_dry_mm: Math.max(0, tray.firstReachMm),
    overtops: tray.spills,
    // In a day.
    spilled_l: tray.spilledL,
    residual_mm: tray.zone.residualMm,
    standing_between_floods_mm: tray.standingMm,
    wet_fraction_root_zone: tray.wetMean,
    dry_fraction_root_zone: 1 - tray.wetMean,
    wet_fraction_at_peak: tray.wetAtPeak,
    wet_time_share: tray.wetTime,
    pot_depth_min_mm: depths.length > 0 ? Math.min(...depths) : null,
    pot_depth_max_mm: depths.length > 0 ? Math.max(...depths) : null,
    pots: tray.vessel.pots.map((pot) => ({
      pot: pot.code,
      depth_mm: tray.potDepthMm.get(pot.id) ?? null,
    })),
    load: kg ? weights(kg) : null,
    verdicts: trayVerdicts(flood, tray, say).map(said),
  };
}

function weights(kg: ShelfLoad['casesKg']) {
  return {
    dry_kg: kg.dry,
    drained_kg: kg.drained,
    flooded_kg: kg.flooded,
    blocked_to_rim_kg: kg.blocked,
  };
}

/** The longest of some times; null where one never ends, or there is none. */
function slowest(seconds: readonly (number | null)[]): number | null {
  const known = seconds.filter((s) => s !== null);
  return known.length > 0 && known.length === seconds.length ? Math.max(...known) : null;
}

function said({ topic, level, text, remedy, notice }: FloodVerdict) {
  return { topic, level, kind: notice?.kind ?? null, text, remedy };
}

function timelineOf(figures: FloodFigures) {
  return figures.zones
    .flatMap(({ zone, runs }) => runs.map((run) => ({ zone: zone.name, ...run })))
    .sort((a, b) => a.startS - b.startS)
    .map(({ zone, ...run }) => ({ zone, ...times(run) }));
}

function times({ startS, endS }: PumpRun) {
  return {
    from: clock(startS / 3600),
    to: clock(endS / 3600),
    start_s: startS,
    end_s: endS,
  };
}

function codesOf(plan: Plan, trayIds: readonly string[]): string[] {
  return plan.rack.shelves.flatMap((shelf) =>
    shelf.trays
      .filter((tray) => trayIds.includes(tray.id))
      .map((tray) => trayCode(shelf.number, tray.letter)),
  );
}
