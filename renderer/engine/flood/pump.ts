import type { Pump } from '../../../shared-types/flood';
import { Refusal } from '../../words';

/**
 * What is known of a pump at least: between two points of its curve the straight line, below the
 * lowest head no more flow, and above the highest head nothing. One point alone, a rated flow at a
 * head, thus promises that flow up to that head.
 */
export function headAtFlowM(pump: Pump, flowLMin: number): number | null {
  const points = pointsOf(pump);
  const [least] = points;
  if (!least) return null;
  if (flowLMin <= least.flowLMin) return least.headM;
  for (let i = 1; i < points.length; i++) {
    const a = points[i - 1];
    const b = points[i];
    if (!a || !b || flowLMin > b.flowLMin) continue;
    if (b.flowLMin === a.flowLMin) return b.headM;
    const share = (flowLMin - a.flowLMin) / (b.flowLMin - a.flowLMin);
    return a.headM + share * (b.headM - a.headM);
  }
  return null;
}

/** Highest head of the curve, m: at or above it nothing is promised. */
export function highestHeadM(pump: Pump): number {
  return Math.max(...pump.curve.map((point) => point.headM));
}

/**
 * Where the pump's curve meets what the pipe asks for: static lift plus losses at that flow. null
 * where the lift alone is as high as the pump's highest head. The crossing is found by bisection,
 * to 1e-12 of the flow.
 */
export function workingPoint(
  pump: Pump,
  liftM: number,
  lossM: (flowLMin: number) => number,
): { flowLMin: number; headM: number } | null {
  const most = Math.max(...pump.curve.map((point) => point.flowLMin));
  const spare = (flow: number) => (headAtFlowM(pump, flow) ?? -Infinity) - liftM - lossM(flow);
  if (most <= 0 || spare(0) <= 0) return null;
  if (spare(most) >= 0) return { flowLMin: most, headM: liftM + lossM(most) };
  let low = 0;
  let high = most;
  while (high - low > 1e-12 * most) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) break;
    if (spare(middle) > 0) low = middle;
    else high = middle;
  }
  return { flowLMin: low, headM: liftM + lossM(low) };
}

/** In order of flow. Throws where more head goes with more flow: that is no pump's curve. */
function pointsOf(pump: Pump) {
  const points = [...pump.curve].sort((a, b) => a.flowLMin - b.flowLMin || b.headM - a.headM);
  points.forEach((point, i) => {
    const before = points[i - 1];
    if (!before || point.headM <= before.headM) return;
    throw new Refusal(
      `curve of ${pump.name}: found ${point.flowLMin} L/min at ${point.headM} m but only ` +
        `${before.flowLMin} L/min at ${before.headM} m; flow that falls as head rises is expected`,
    );
  });
  return points;
}
