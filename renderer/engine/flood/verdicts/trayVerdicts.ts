import type { FloodPlan } from '../../../../shared-types/flood';
import { crestVerdicts } from './crestVerdicts';
import { highestHeadM } from '../pump';
import { siphonVerdicts } from './siphonVerdicts';
import type { TrayFlood } from '../tray/trayFlood';
import { bad, close, good, unknown, type FloodVerdict } from './verdict';
import { duration, formatShare, type Speech } from '../../../words';

/** Less spare time than this share of the pump's run, or of the pause, is called close. */
const CLOSE_SHARE = 0.1;

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
    `The water of tray ${code} must be lifted ${say.run(liftM)} to its crest, but the curve of ` +
      `${pump.name} ends at a head of ${say.run(highestHeadM(pump))}. Nothing reaches the tray.`,
    'Choose a pump with more head, raise the reservoir, or put the tray on a lower shelf.',
  );
}

function fillVerdict(tray: TrayFlood, say: Speech): FloodVerdict {
  const { zone, fillFirstS, fillLaterS, fillMargin, onS, inflowLMin, code } = tray;
  const topic = 'Filling';
  const crest = say.length(Math.min(zone.floodDepthMm, tray.rimMm));
  const reach = say.length(Math.max(0, tray.firstReachMm));
  const remedy = 'Take a larger reservoir, top up more often, or flood fewer trays at once.';
  if (tray.emptiedS !== null) {
    const when =
      tray.emptiedS < 1
        ? 'nothing in the reservoir is in reach of the pump'
        : `the reservoir is empty after ${duration(tray.emptiedS)}, and the pump brings no more`;
    const text = `Tray ${code} reaches ${reach} of ${crest} from dry: ${when}.`;
    return bad(topic, 'never-fills', 'stop', text, remedy);
  }
  if (fillFirstS === null) {
    const within = onS === null ? '' : ` in the ${duration(onS)} the pump runs`;
    return bad(
      topic,
      'never-fills',
      'stop',
      `Tray ${code} reaches ${reach} of ${crest}${within}. So much of the ${say.flow(inflowLMin)} that ` +
        'come in leaks through the open return that it never fills.',
      'Choose a smaller return hole, a return through the pump, or a pump with more flow.',
    );
  }
  const gets = `Tray ${code} gets ${say.flow(inflowLMin)}`;
  const fill = `fills to ${crest} in ${duration(fillFirstS)} from dry`;
  if (onS === null) {
    return unknown(topic, `${gets} and ${fill}; no schedule is stated.`, 'State when it floods.');
  }
  if (fillMargin === null) {
    const soon = fillLaterS !== null && fillLaterS <= onS;
    const later = soon
      ? ` Later floods, with media still moist, fill it in ${duration(fillLaterS)}.`
      : tray.peakMm > tray.firstReachMm + 1
        ? ` Later floods, from moist media and what still stands, reach ${say.length(tray.peakMm)}.`
        : '';
    return bad(
      topic,
      'never-fills',
      soon ? 'warn' : 'stop',
      `Tray ${code} needs ${duration(fillFirstS)} of ${say.flow(inflowLMin)} to fill from dry, and gets ` +
        `${duration(onS)}. It reaches ${reach} of ${crest} in the ${duration(onS)} the pump runs.${later}`,
      `Let the pump run ${duration(fillFirstS * (1 + CLOSE_SHARE))} or longer, or give it more flow.`,
    );
  }
  if (tray.short !== null) {
    const { floods, of, leastMm } = tray.short;
    return bad(
      topic,
      'never-fills',
      'stop',
      `${gets} and ${fill}, but before it is topped up the reservoir runs dry: on that day ` +
        `${floods} of ${of} floods come to less, the least to ${say.length(Math.max(0, leastMm))}.`,
      remedy,
    );
  }
  const { spare, share } = fillMargin;
  const words =
    `${gets} and ${fill}; the pump runs ${duration(onS)}, ${duration(spare)} longer: margin ` +
    `${formatShare(share)}.`;
  if (share < CLOSE_SHARE) {
    return close(topic, words, 'A little wear of the pump eats this up: let it run longer.');
  }
  return good(topic, words);
}

function drainVerdict(flood: FloodPlan, tray: TrayFlood, say: Speech): FloodVerdict {
  const { zone, drainS, drainMargin, pauseS, standingMm, siphon, code } = tray;
  const topic = 'Draining';
  const pond = tray.vessel.tilt.drainOverLowestMm;
  const puddle =
    pond > 0 ? ` At its low side ${say.length(pond + zone.residualMm)} stay, below the drain.` : '';
  if (siphon?.starts === false) {
    return bad(
      topic,
      'never-drains',
      'stop',
      `Tray ${code} has no other way out than its siphon, which does not start: the water stands ` +
        `at ${say.length(pauseS === null ? tray.peakMm : standingMm)} until the next flood, and after.`,
      'Make the siphon start; see there.',
    );
  }
  if (drainS === null) {
    return bad(
      topic,
      'never-drains',
      'stop',
      `Tray ${code} comes to rest above its residual depth of ${say.length(zone.residualMm)}.`,
      'Set the drain at the lowest place of the tray.',
    );
  }
  const drains = `Tray ${code} drains to ${say.length(zone.residualMm)} in ${duration(drainS)}`;
  if (pauseS === null) return unknown(topic, `${drains}.${puddle}`, 'State when it floods.');
  const stands = standingMm > zone.residualMm + 0.5;
  if (siphon && stands && !tray.continuous && drainS <= pauseS) {
    const deep = standingMm >= flood.leastWetShare * tray.rootZoneMm;
    return bad(
      topic,
      'never-drains',
      deep ? 'warn' : 'note',
      `The pump stops while the siphon of tray ${code} is filling again: ${say.length(standingMm)} of ` +
        'water stand until the next flood.',
      `Let the pump run a little longer than one filling, ${duration(tray.fillFirstS ?? 0)}.`,
    );
  }
  if (!siphon && (tray.continuous || stands || drainS > pauseS)) {
    const pause = tray.continuous ? 'the pump never stops' : `the pause is ${duration(pauseS)}`;
    return bad(
      topic,
      'never-drains',
      'stop',
      `${drains}, but ${pause}: ${say.length(Math.max(standingMm, zone.residualMm))} of water still stand ` +
        'when the next flood comes.',
      'Flood less often, let the pump run shorter, or widen the drain.',
    );
  }
  if (siphon && drainS > pauseS && !tray.continuous) {
    return bad(
      topic,
      'never-drains',
      'stop',
      `${drains}, but the pause is ${duration(pauseS)}: the next flood comes before it is empty.`,
      'Flood less often, or give the siphon a wider bore.',
    );
  }
  if (tray.continuous) return good(topic, `${drains} each time its siphon trips.${puddle}`);
  const share = drainMargin?.share ?? 0;
  const words = `${drains}; the next flood comes after ${duration(pauseS)}: margin ${formatShare(share)}.${puddle}`;
  if (share < CLOSE_SHARE) return close(topic, words, 'Flood a little less often.');
  return good(topic, words);
}
