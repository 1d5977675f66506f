import type { FloodPlan, FloodZone } from '../../../../shared-types/flood';
import { trayCode } from '../../geometry';
import { depthAtPotMm, type Basin, type TrayVessel } from './basin';
import { runTo, type Course, type CoursePoint } from './course';
import { marginOf, type Margin } from './margin';
import { outletsOf } from './outlet';
import { siphonFigures, type SiphonFigures } from './siphonFigures';
import type { Filling } from '../pool';
import { AT_RIM_MM } from '../reservoir';
import { runningSeconds, shortestPauseS, type PumpRun } from '../schedule';
import { depthAt, meanOver } from '../working';
import type { Day } from '../zoneDay';

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
  /** Seconds into the first flood after which a full reservoir is empty; null: the tray fills, or the pump stops, before. */
  emptiedS: number | null;
  /** Where the reservoir runs dry in the day: how many floods come to less for that, and the least of them. */
  short: { floods: number; of: number; leastMm: number } | null;
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
  /** Whether the water comes to the rim, and whether it would with water without end. */
  spills: boolean;
  wouldSpill: boolean;
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
  /** The same at the highest water of the least flood. */
  wetAtLeast: number;
  wetTime: number;
  /** Depth at each pot's centre at the peak. */
  potDepthMm: ReadonlyMap<string, number>;
}

const SLACK_MM = 0.5;

/** What the zone brings to one of its trays. */
export interface Share {
  liftM: number;
  inflowLMin: number;
  /** The first flood, from dry to the crest, and when that empties the full reservoir, s. */
  firstFlood: Course | null;
  emptiedS: number | null;
  /** The day as the reservoir allows it, and as it would be with water without end. */
  day: Day;
  ample: Day;
}

/** The first flood of a tray, from dry media and an empty tray to the crest; null without inflow. */
export function firstFlood({ work, first }: Filling): Course | null {
  const { zone, inflowLMin } = work;
  if (inflowLMin <= 0) return null;
  return runTo(first, inflowLMin, outletsOf(zone).leak, first.emptyMm, crestOf(zone, first));
}

const crestOf = (zone: FloodZone, basin: Basin) => Math.min(zone.floodDepthMm, basin.rimMm);

export function trayFlood(
  flood: FloodPlan,
  zone: FloodZone,
  vessel: TrayVessel,
  share: Share,
  runs: readonly PumpRun[],
): TrayFlood {
  const { inflowLMin, day, ample } = share;
  const { first, later, tray, shelf } = vessel;
  const crest = crestOf(zone, first);
  const dry = inflowLMin <= 0;
  const onS = runs.length > 0 ? Math.min(...runs.map((run) => run.endS - run.startS)) : null;
  const pauseS = shortestPauseS(runs);
  const { emptiedS, fillFirstS, fillLaterS, firstReachMm } = fillingOf(zone, vessel, share, onS);
  // Without a schedule a tray is judged as if it were filled to its crest.
  const peakMm =
    !dry && runs.length === 0
      ? Math.max(emptiedS === null ? crest : firstReachMm, zone.residualMm)
      : highest(day.points);
  const short = shortOf(day, ample, crest);
  // A siphon starts at its crest only: not where the reservoir never brings the water there.
  const siphon = siphonFigures(
    { zone, basin: later, inflowLMin },
    short === null || peakMm >= crest - SLACK_MM,
  );
  const drainS = dry ? null : drainSeconds(zone, later, peakMm, siphon);
  const { rootZoneMm, wet } = rootsOf(flood, vessel);
  return {
    trayId: tray.id,
    shelfId: shelf.id,
    zoneId: zone.id,
    code: trayCode(shelf.number, tray.letter),
    vessel,
    zone,
    liftM: share.liftM,
    inflowLMin,
    firstL: first.volumeL(crest),
    laterL: Math.max(0, later.volumeL(crest) - later.volumeL(Math.min(zone.residualMm, crest))),
    rimL: first.volumeL(first.rimMm),
    fillFirstS,
    fillLaterS,
    emptiedS,
    short,
    drainS,
    onS,
    pauseS,
    fillMargin: marginIn(onS, fillFirstS),
    drainMargin: marginIn(pauseS, drainS),
    continuous: pauseS !== null && pauseS <= 0 && runningSeconds(runs) > 0,
    siphon,
    peakMm,
    rimMm: first.rimMm,
    spills: !dry && peakMm >= first.rimMm - AT_RIM_MM,
    wouldSpill: !dry && runs.length > 0 && highest(ample.points) >= first.rimMm - AT_RIM_MM,
    spilledL: day.spilledL,
    firstReachMm,
    rootZoneMm,
    standingMm: Math.max(zone.residualMm, ...day.atStartMm),
    course: day.points,
    wetMean: meanOver(day.points, wet),
    wetAtPeak: wet(peakMm),
    wetAtLeast: wet(short?.leastMm ?? peakMm),
    wetTime: meanOver(day.points, (mm) => (mm > zone.residualMm + SLACK_MM ? 1 : 0)),
    potDepthMm: new Map(vessel.pots.map((pot) => [pot.id, depthAtPotMm(vessel, pot, peakMm)])),
  };
}

/** How long a tray takes to its crest from dry and from drained, and what keeps it from there. */
function fillingOf(
  zone: FloodZone,
  { first, later }: TrayVessel,
  share: Share,
  onS: number | null,
): Pick<TrayFlood, 'fillFirstS' | 'fillLaterS' | 'emptiedS' | 'firstReachMm'> {
  const { inflowLMin, firstFlood: course } = share;
  const crest = crestOf(zone, first);
  const fills = course?.arrived ? course.seconds : null;
  const before = Math.min(onS ?? Infinity, fills ?? Infinity);
  const emptiedS = share.emptiedS !== null && share.emptiedS < before ? share.emptiedS : null;
  const refill = () => {
    if (inflowLMin <= 0) return null;
    if (zone.residualMm >= crest) return 0;
    const again = runTo(later, inflowLMin, outletsOf(zone).leak, zone.residualMm, crest);
    return again.arrived ? again.seconds : null;
  };
  return {
    emptiedS,
    fillFirstS: emptiedS === null ? fills : null,
    fillLaterS: refill(),
    firstReachMm: course
      ? depthAt(course.points, Math.min(onS ?? Infinity, emptiedS ?? Infinity))
      : first.emptyMm,
  };
}

/** From the peak to the residual depth, pump off; null: never. */
function drainSeconds(
  zone: FloodZone,
  basin: Basin,
  peakMm: number,
  siphon: SiphonFigures | null,
): number | null {
  if (peakMm <= zone.residualMm) return 0;
  // Without a siphon that starts there is no other way out.
  if (siphon?.starts === false) return null;
  const drained = runTo(basin, 0, outletsOf(zone).emptying, peakMm, zone.residualMm);
  return drained.arrived ? drained.seconds : null;
}

/** What is to spare of a time; null where the water does not get there in it. */
function marginIn(hasS: number | null, needsS: number | null): Margin | null {
  const inTime = hasS !== null && hasS > 0 && needsS !== null && needsS <= hasS;
  return inTime ? marginOf(hasS, needsS) : null;
}

/** The root zone's height, and the share of it under water in the tray's middle at a depth. */
function rootsOf(
  flood: FloodPlan,
  { tray, tilt, pots }: TrayVessel,
): { rootZoneMm: number; wet: (depthMm: number) => number } {
  // Roots end where their pots do.
  const rootZoneMm = Math.min(flood.rootZoneTopMm, ...pots.map((pot) => pot.heightMm));
  const middle = tilt.riseMm(tray.widthMm / 2, tray.depthMm / 2);
  const wet = (depthMm: number) => {
    const under = Math.max(0, depthMm - middle);
    return rootZoneMm > 0 ? Math.min(1, under / rootZoneMm) : under > 0 ? 1 : 0;
  };
  return { rootZoneMm, wet };
}

const highest = (points: readonly CoursePoint[]) =>
  points.reduce((most, p) => Math.max(most, p.depthMm), -Infinity);

/** Floods that an empty reservoir leaves lower than they would be, and under the crest. */
function shortOf(day: Day, ample: Day, floodDepthMm: number): TrayFlood['short'] {
  const peaks = day.runPeaksMm;
  const short = peaks.filter(
    (mm, i) => mm < Math.min(floodDepthMm, ample.runPeaksMm[i] ?? floodDepthMm) - SLACK_MM,
  );
  if (short.length === 0) return null;
  return { floods: short.length, of: peaks.length, leastMm: Math.min(...short) };
}
