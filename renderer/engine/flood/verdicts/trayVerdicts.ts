import type { FloodPlan } from '../../../../shared-types/flood';
import { crestVerdicts } from './crestVerdicts';
import { drainVerdict } from './drainVerdict';
import { fillVerdict } from './fillVerdict';
import { highestHeadM } from '../pump';
import { siphonVerdicts } from './siphonVerdicts';
import type { TrayFlood } from '../tray/trayFlood';
import { bad, type FloodVerdict } from './verdict';
import { formatShare, type Speech } from '../../../words';

/**
 * Everything that can be said of one tray, in the order in which the water goes. Where no water gets
 * to, nothing else is judged.
 */
export function trayVerdicts(flood: FloodPlan, tray: TrayFlood, say: Speech): FloodVerdict[] {
  if (tray.inflowLMin <= 0) return [noWater(tray, say)];
  const drains = drainVerdict(flood, tray, say);
  return [
    fillVerdict(tray, say),
    ...siphonVerdicts(tray, say),
    drains,
    ...crestVerdicts(flood, tray, say),
    // Where a tray does not drain, that is what to mend.
    ...(drains.level === 'bad' ? [] : airVerdict(tray, say)),
  ];
}

/** Roots that stand in water for more of the day than they have air (common practice, no source). */
const MOST_OF_THE_DAY = 0.5;

/** Nothing to tell where roots have air for half the day, or where nothing grows. */
function airVerdict(tray: TrayFlood, say: Speech): FloodVerdict[] {
  const { code, vessel, wetTime, zone, peakMm } = tray;
  if (vessel.pots.length === 0 || wetTime <= MOST_OF_THE_DAY) return [];
  return [
    bad(
      'Air',
      'roots-too-wet',
      'warn',
      `Water stands in tray ${code} for ${formatShare(wetTime)} of the day, up to ${say.length(peakMm)}. Roots need air between two floods; few crops bear it.`,
      `Let the pump of ${zone.name} run shorter, or flood less often.`,
    ),
  ];
}

function noWater(tray: TrayFlood, say: Speech): FloodVerdict {
  const { code, liftM, zone } = tray;
  const { pump } = zone;
  const topic = 'Lift';
  if (pump.curve.every((point) => point.flowLMin <= 0)) {
    return bad(
      topic,
      'pump-below-head',
      'stop',
      `The curve of ${pump.name} has ${say.flow(0)} at every head: nothing reaches tray ${code}.`,
      'Enter the flow that the pump gives at some head.',
    );
  }
  return bad(
    topic,
    'pump-below-head',
    'stop',
    `The water of tray ${code} must be lifted ${say.run(liftM)} to its flood depth, but the curve of ` +
      `${pump.name} ends at a head of ${say.run(highestHeadM(pump))}. Nothing reaches the tray.`,
    'Choose a pump with more head, raise the reservoir, or put the tray on a lower shelf.',
  );
}
