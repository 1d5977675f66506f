import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import { trayCode } from '../geometry';
import { depthAtPotMm, type TrayVessel } from './basin';
import { runTo, type CoursePoint } from './course';
import { restingDepthMm } from './level';
import { marginOf, type Margin } from './margin';
import { outflowLMin, outletsOf, overLipLMin } from './outlet';
import { runningSeconds, shortestPauseS, withinDay, type PumpRun } from './schedule';
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
  /** Seconds with the pump on for as long as that takes; null: never gets there. */
  fillFirstS: number | null;
  fillLaterS: number | null;
  /** From the highest level of the day to the residual depth, pump off; null: never, or no water. */
  drainS: number | null;
  /** The shortest run of the pump, and the shortest pause after one; null without a schedule. */
  onS: number | null;
  pauseS: number | null;
  /**
   * Of the pump's shortest run after filling from dry, of the shortest pause after draining, s; null
   * where the water does not get there in that time.
   */
  fillMargin: Margin | null;
  drainMargin: Margin | null;
  continuous: boolean;
  siphon: SiphonFigures | null;
  /** Highest depth of the day, without a schedule the crest; the rim, both at the drain. */
  peakMm: number;
  rimMm: number;
  /** Whether the water comes to the rim. */
  spills: boolean;
  /** Over the rim in a day, L. */
  spilledL: number;
  /** How far the shortest run fills it from dry, up to the crest; without a schedule an endless one. */
  firstReachMm: number;
  /** The share of the root zone's height is taken of this: the plan's figure, or the pots' rim. */
  rootZoneMm: number;
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
  // Without a schedule a tray is judged as if it were filled to its crest.
  const peakMm =
    inflowLMin > 0 && runs.length === 0
      ? Math.max(crest, zone.residualMm)
      : day.points.reduce((most, p) => Math.max(most, p.depthMm), -Infinity);
  const drained =
    peakMm > zone.residualMm ? runTo(later, 0, emptying, peakMm, zone.residualMm) : null;
  const siphon = siphonFigures(work);
  // Without a siphon that starts there is no other way out.
  const shut = siphon?.starts === false;
  const dry = inflowLMin <= 0;
  const empties = peakMm <= zone.residualMm ? 0 : drained?.arrived ? drained.seconds : null;
  const drainS = dry || (shut && empties !== 0) ? null : empties;
  const fillFirstS = fill(first, first.emptyMm);
  const onS = runs.length > 0 ? Math.min(...runs.map((run) => run.endS - run.startS)) : null;
  const pauseS = shortestPauseS(runs);
  const marginIn = (hasS: number | null, needsS: number | null) =>
    hasS !== null && hasS > 0 && needsS !== null && needsS <= hasS ? marginOf(hasS, needsS) : null;
  // Roots end where their pots do.
  const root = Math.min(flood.rootZoneTopMm, vessel.pots[0]?.heightMm ?? Infinity);
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
    spills: !dry && peakMm >= first.rimMm - 1e-6,
    spilledL: dry || runs.length === 0 ? 0 : spilledOver(work, day.points, runs),
    firstReachMm: dry
      ? first.emptyMm
      : runTo(first, inflowLMin, leak, first.emptyMm, crest, onS ?? Infinity).depthMm,
    rootZoneMm: root,
    standingMm: Math.max(zone.residualMm, ...day.atStartMm),
    course: day.points,
    wetMean: meanOver(day.points, wet),
    wetAtPeak: wet(peakMm),
    wetTime: meanOver(day.points, (mm) => (mm > zone.residualMm + SLACK_MM ? 1 : 0)),
    potDepthMm: new Map(vessel.pots.map((pot) => [pot.id, depthAtPotMm(vessel, pot, peakMm)])),
  };
}

/**
 * Litres over the rim in a day: what comes in and does not go out while the pump runs and the water
 * stands at the rim. Every run begins and ends at a point of the course.
 */
function spilledOver(work: Work, course: readonly CoursePoint[], runs: readonly PumpRun[]): number {
  const rimMm = work.basin.rimMm - 1e-6;
  const running = runs.flatMap(withinDay);
  let seconds = 0;
  course.forEach((to, i) => {
    const from = course[i - 1];
    if (!from || from.depthMm < rimMm || to.depthMm < rimMm) return;
    const middle = (from.seconds + to.seconds) / 2;
    if (running.some((run) => run.startS <= middle && middle <= run.endS)) {
      seconds += to.seconds - from.seconds;
    }
  });
  const netLMin = work.inflowLMin - outAtLMin(work, work.basin.rimMm);
  return (seconds / 60) * Math.max(0, netLMin);
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
