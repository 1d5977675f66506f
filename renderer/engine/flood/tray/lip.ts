import type { FloodZone } from '../../../../shared-types/flood';
import type { Basin } from './basin';
import type { CoursePoint } from './course';
import { outflowLMin, outletsOf, overLipLMin, overLipMm } from './outlet';

/** One tray at work: what fills it and what lets it empty. */
export interface Work {
  zone: FloodZone;
  basin: Basin;
  inflowLMin: number;
}

/**
 * Where leak and overflow (of a siphon its crown) take all that comes in, if the rim lets the water
 * rise that far.
 */
function balanceMm({ zone, inflowLMin }: Work, boreMm: number): number {
  const { floodDepthMm, dischargeCoefficient: cd } = zone;
  const leak = outflowLMin(outletsOf(zone).leak, floodDepthMm);
  return floodDepthMm + overLipMm(Math.max(0, inflowLMin - leak), boreMm, cd);
}

/**
 * Each step goes this share of the way that is left, until a thousandth of it is; but over the crest,
 * where the outflow grows fastest, no more than this much of the height so far.
 */
const STEP_SHARE = 0.15;
const FIRST_STEP_MM = 0.25;
const GROWTH = 0.3;
const STEPS = 80;

/**
 * The rise over the crest, while the pump runs on, towards the level at which an overflow pipe of
 * this bore takes all that comes in, or to the rim. Weir and hole have no common closed
 * form: time is summed over steps, each with the net flow at its middle.
 */
export function riseOverLip(
  work: Work,
  boreMm: number,
  fromMm: number,
  mostSeconds: number,
): CoursePoint[] {
  const { zone, basin, inflowLMin } = work;
  const { floodDepthMm, dischargeCoefficient: cd } = zone;
  const balance = balanceMm(work, boreMm);
  const { leak } = outletsOf(zone);
  const points: CoursePoint[] = [{ seconds: 0, depthMm: fromMm }];
  let seconds = 0;
  let depthMm = fromMm;
  for (let i = 0; i < STEPS && depthMm < Math.min(balance, basin.rimMm); i++) {
    const step = Math.min(
      STEP_SHARE * (balance - depthMm),
      FIRST_STEP_MM + GROWTH * Math.max(0, depthMm - floodDepthMm),
    );
    const next = Math.min(basin.rimMm, depthMm + step);
    const middle = (depthMm + next) / 2;
    const over = overLipLMin(middle - floodDepthMm, boreMm, cd);
    const net = inflowLMin - outflowLMin(leak, middle) - over;
    // An open return leaks a little more with the depth, so that the balance may lie lower.
    if (net <= 0) break;
    const took = (60 * (basin.volumeL(next) - basin.volumeL(depthMm))) / net;
    if (seconds + took > mostSeconds) {
      depthMm += ((mostSeconds - seconds) / took) * (next - depthMm);
      break;
    }
    seconds += took;
    depthMm = next;
    points.push({ seconds, depthMm });
  }
  points.push({ seconds: mostSeconds, depthMm });
  return points;
}
