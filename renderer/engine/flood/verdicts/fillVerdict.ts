import type { TrayFlood } from '../tray/trayFlood';
import { bad, close, CLOSE_SHARE, good, unknown, type FloodVerdict } from './verdict';
import { duration, formatShare, type Speech } from '../../../words';

/** Whether it fills to its crest, and with how much time to spare. */
export function fillVerdict(tray: TrayFlood, say: Speech): FloodVerdict {
  const { fillFirstS, fillMargin, onS, short } = tray;
  if (tray.emptiedS !== null) return emptied(tray, tray.emptiedS, say);
  if (fillFirstS === null) return leaksAway(tray, say);
  const fills = `Tray ${tray.code} gets ${say.flow(tray.inflowLMin)} and fills to ${crestIn(tray, say)} in ${duration(fillFirstS)} from dry`;
  if (onS === null) {
    return unknown(TOPIC, `${fills}; no schedule is stated.`, 'State when it floods.');
  }
  if (fillMargin === null) return tooShort(tray, fillFirstS, onS, say);
  if (short !== null) {
    const { floods, of, leastMm } = short;
    return bad(
      TOPIC,
      'never-fills',
      'stop',
      `${fills}, but before it is topped up the reservoir runs dry: on that day ` +
        `${floods} of ${of} floods come to less, the least to ${say.length(Math.max(0, leastMm))}.`,
      MORE_WATER,
    );
  }
  const { spare, share } = fillMargin;
  const words =
    `${fills}; the pump runs ${duration(onS)}, ${duration(spare)} longer: margin ` +
    `${formatShare(share)}.`;
  if (share < CLOSE_SHARE) {
    return close(TOPIC, words, 'A little wear of the pump eats this up: let it run longer.');
  }
  return good(TOPIC, words);
}

const TOPIC = 'Filling';
const MORE_WATER = 'Take a larger reservoir, top up more often, or flood fewer trays at once.';

const crestIn = ({ zone, rimMm }: TrayFlood, say: Speech) =>
  say.length(Math.min(zone.floodDepthMm, rimMm));
/** `20 mm of 32 mm`: how far the first flood gets. */
const reachIn = (tray: TrayFlood, say: Speech) =>
  `${say.length(Math.max(0, tray.firstReachMm))} of ${crestIn(tray, say)}`;

function emptied(tray: TrayFlood, afterS: number, say: Speech): FloodVerdict {
  const when =
    afterS < 1
      ? 'all water in the reservoir is unusable'
      : `the reservoir is empty after ${duration(afterS)}, and the pump brings no more`;
  const text = `Tray ${tray.code} reaches ${reachIn(tray, say)} from dry: ${when}.`;
  return bad(TOPIC, 'never-fills', 'stop', text, MORE_WATER);
}

function leaksAway(tray: TrayFlood, say: Speech): FloodVerdict {
  const { code, onS, inflowLMin } = tray;
  const within = onS === null ? '' : ` in the ${duration(onS)} the pump runs`;
  return bad(
    TOPIC,
    'never-fills',
    'stop',
    `Tray ${code} reaches ${reachIn(tray, say)}${within}. So much of the ${say.flow(inflowLMin)} that ` +
      'come in leaks through the open return that it never fills.',
    'Choose a smaller return hole, a return through the pump, or a pump with more flow.',
  );
}

/** The pump runs for less time than it takes from dry; later floods may still fill it. */
function tooShort(tray: TrayFlood, needsS: number, onS: number, say: Speech): FloodVerdict {
  const { code, fillLaterS, inflowLMin } = tray;
  const soon = fillLaterS !== null && fillLaterS <= onS;
  const later = soon
    ? ` Later floods, with media still moist, fill it in ${duration(fillLaterS)}.`
    : tray.peakMm > tray.firstReachMm + 1
      ? ` Later floods, from moist media and what still stands, reach ${say.length(tray.peakMm)}.`
      : '';
  return bad(
    TOPIC,
    'never-fills',
    soon ? 'warn' : 'stop',
    `Tray ${code} needs ${duration(needsS)} of ${say.flow(inflowLMin)} to fill from dry, and gets ` +
      `${duration(onS)}. It reaches ${reachIn(tray, say)} in the ${duration(onS)} the pump runs.${later}`,
    `Let the pump run ${duration(needsS * (1 + CLOSE_SHARE))} or longer, or give it more flow.`,
  );
}
