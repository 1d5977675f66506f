import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import { trayCode } from '../geometry';
import { depthAtPotMm, type TrayVessel } from './basin';
import { runTo, type CoursePoint } from './course';
import { restingDepthMm } from './level';
import { marginOf, type Margin } from './margin';
import { outflowLMin, outletsOf, overLipLMin } from './outlet';
import { DAY_S, runningSeconds, shortestPauseS, type PumpRun } from './schedule';
import type { Work } from './lip';
import { dayOf, meanOver, siphonStarts } from './working';

/** Flows in L/min, depths over the floor at the drain in mm. */
export interface SiphonFigures {
  starts: boolean | null;
  breaks: boolean;
  tripFlowLMin: number | null;
  fullAtCrestLMin: number;
  fullAtBreakLMin: number;
  /** Where the level hangs while the pump runs on; null where it breaks. */
  hangsAtMm: number | null;
}

/** All that is reckoned about the flooding of one tray. Depths at the drain unless said, mm. */
export interface TrayFlood {
  trayId: string;
  shelfId: string;
  zoneId: string;
  code: string;
  vessel: TrayVessel;
  zone: FloodZone;
  liftM: number;
  /** 0: the pump does not reach it. */
  inflowLMin: number;
  /** From dry media and an empty tray to the crest; from drained to the crest; to the rim. */
  firstL: number;
  laterL: number;
  rimL: number;
  /** Seconds; null: never gets there. */
  fillFirstS: number | null;
  fillLaterS: number | null;
  /** From the highest level of the day to the residual depth, pump off; null: never. */
  drainS: number | null;
  /** The shortest run of the pump, and the shortest pause after one; null without a schedule. */
  onS: number | null;
  pauseS: number | null;
  /** Of the pump's shortest run after filling from dry, of the shortest pause after draining, s. */
  fillMargin: Margin | null;
  drainMargin: Margin | null;
  continuous: boolean;
  siphon: SiphonFigures | null;
  /** Highest depth of the day; the rim, both at the drain. */
  peakMm: number;
  rimMm: number;
  spills: boolean;
  /** Over the rim in a day, L. */
  spilledL: number;
  /** Depth to which the shortest run of the pump fills the tray from dry; null without a schedule. */
  firstReachMm: number | null;
  /** Deepest water that still stands when the pump starts again. */
  standingMm: number;
  /** A day, seconds from midnight. */
  course: readonly CoursePoint[];
  /** Mean over the day of the share of the root zone's height under water, in the tray's middle. */
  wetMean: number;
  /** The same at the peak, and share of the day with more than the residual water. */
  wetAtPeak: number;
  wetTime: number;
  /** Depth at each pot's centre at the peak. */
  potDepthMm: ReadonlyMap<string, number>;
}

const SLACK_MM = 0.5;

export function trayFlood(
  flood: FloodPlan,
  zone: FloodZone,
  vessel: TrayVessel,
  supply: { liftM: number; inflowLMin: number },
  runs: readonly PumpRun[],
): TrayFlood {
  const { inflowLMin } = supply;
  const { first, later, tray, shelf, tilt } = vessel;
  const { leak, emptying } = outletsOf(zone);
  const work: Work = { zone, basin: later, inflowLMin };
  const crest = Math.min(zone.crestMm, first.rimMm);
  const fill = (basin: typeof first, fromMm: number) => {
    if (inflowLMin <= 0) return null;
    if (fromMm >= crest) return 0;
    const course = runTo(basin, inflowLMin, leak, fromMm, crest);
    return course.arrived ? course.seconds : null;
  };
  const day = dayOf(work, runs);
  const peakMm = day.points.reduce((most, p) => Math.max(most, p.depthMm), -Infinity);
  // Without a schedule, or a pump that reaches it, a tray drains from its crest once it is filled.
  const topMm = inflowLMin > 0 && runs.length > 0 ? peakMm : crest;
  const drained =
    topMm > zone.residualMm ? runTo(later, 0, emptying, topMm, zone.residualMm) : null;
  const siphon = siphonFigures(work);
  // Without a siphon that starts there is no other way out.
  const shut = siphon?.starts === false;
  const drainS = topMm <= zone.residualMm ? 0 : drained?.arrived && !shut ? drained.seconds : null;
  const fillFirstS = fill(first, first.emptyMm);
  const onS = runs.length > 0 ? Math.min(...runs.map((run) => run.endS - run.startS)) : null;
  const pauseS = shortestPauseS(runs);
  const marginIn = (hasS: number | null, needsS: number | null) =>
    hasS !== null && hasS > 0 && needsS !== null ? marginOf(hasS, needsS) : null;
  const root = flood.rootZoneTopMm;
  const middle = tilt.riseMm(tray.widthMm / 2, tray.depthMm / 2);
  const wet = (depthMm: number) => {
    const under = Math.max(0, depthMm - middle);
    return root > 0 ? Math.min(1, under / root) : under > 0 ? 1 : 0;
  };
  return {
    trayId: tray.id,
    shelfId: shelf.id,
    zoneId: zone.id,
    code: trayCode(shelf.number, tray.letter),
    vessel,
    zone,
    liftM: supply.liftM,
    inflowLMin,
    firstL: first.volumeL(crest),
    laterL: Math.max(0, later.volumeL(crest) - later.volumeL(Math.min(zone.residualMm, crest))),
    rimL: first.volumeL(first.rimMm),
    fillFirstS,
    fillLaterS: fill(later, zone.residualMm),
    drainS,
    onS,
    pauseS,
    fillMargin: marginIn(onS, fillFirstS),
    drainMargin: marginIn(pauseS, drainS),
    continuous: pauseS !== null && pauseS <= 0 && runningSeconds(runs) > 0,
    siphon,
    peakMm,
    rimMm: first.rimMm,
    spills: inflowLMin > 0 && (zone.crestMm >= first.rimMm || peakMm >= first.rimMm - 1e-6),
    spilledL: spilledOver(work, day.points),
    firstReachMm:
      onS === null || inflowLMin <= 0
        ? null
        : runTo(first, inflowLMin, leak, first.emptyMm, crest, onS).depthMm,
    standingMm: Math.max(zone.residualMm, ...day.atStartMm),
    course: day.points,
    wetMean: meanOver(day.points, wet),
    wetAtPeak: wet(peakMm),
    wetTime: meanOver(day.points, (mm) => (mm > zone.residualMm + SLACK_MM ? 1 : 0)),
    potDepthMm: new Map(vessel.pots.map((pot) => [pot.id, depthAtPotMm(vessel, pot, peakMm)])),
  };
}

/** Litres over the rim in a day: what comes in and does not go out while the water stands at it. */
function spilledOver({ zone, basin, inflowLMin }: Work, course: readonly CoursePoint[]): number {
  const { rimMm } = basin;
  const atRim = meanOver(course, (mm) => (mm >= rimMm - 1e-6 ? 1 : 0));
  const netLMin = inflowLMin - outAtLMin({ zone, basin, inflowLMin }, rimMm);
  return atRim * (DAY_S / 60) * Math.max(0, netLMin);
}

/** What a drain takes at a depth while the pump runs, L/min. */
function outAtLMin(work: Work, depthMm: number): number {
  const { crestMm, drain, dischargeCoefficient: cd } = work.zone;
  const { leak, emptying } = outletsOf(work.zone);
  switch (drain.kind) {
    case 'valve':
      return 0;
    case 'standpipe':
      return outflowLMin(leak, depthMm) + overLipLMin(depthMm - crestMm, drain.overflowBoreMm, cd);
    case 'siphon':
      return siphonStarts(work) === false
        ? overLipLMin(depthMm - crestMm, drain.boreMm, cd)
        : outflowLMin(emptying, depthMm);
    default:
      return drain satisfies never;
  }
}

function siphonFigures(work: Work): SiphonFigures | null {
  const { zone, basin, inflowLMin } = work;
  const { drain } = zone;
  if (drain.kind !== 'siphon') return null;
  const { emptying } = outletsOf(zone);
  const fullAtBreakLMin = outflowLMin(emptying, zone.residualMm);
  const breaks = inflowLMin < fullAtBreakLMin;
  const rest = restingDepthMm(inflowLMin, emptying);
  return {
    starts: siphonStarts(work),
    breaks,
    tripFlowLMin: drain.tripFlowLMin,
    fullAtCrestLMin: outflowLMin(emptying, zone.crestMm),
    fullAtBreakLMin,
    hangsAtMm: breaks || rest === null ? null : Math.min(basin.rimMm, rest),
  };
}
