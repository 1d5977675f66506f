import { marginOf } from '../tray/margin';
import type { TrayFlood } from '../tray/trayFlood';
import { bad, close, good, type FloodVerdict } from './verdict';
import { capital, formatShare, type Speech } from '../../../words';

/** Nearer than this share to a limit of the siphon is called close. */
const CLOSE_SHARE = 0.15;

/** Whether the bell siphon of a tray starts and breaks; nothing for other drains. */
export function siphonVerdicts(tray: TrayFlood, say: Speech): FloodVerdict[] {
  const { siphon } = tray;
  if (!siphon) return [];
  return [startVerdict(tray, say), breakVerdict(tray, say)];
}

function startVerdict(tray: TrayFlood, say: Speech): FloodVerdict {
  const { siphon, inflowLMin, code, zone } = tray;
  const topic = 'Siphon starts';
  const trip = siphon?.tripFlowLMin ?? null;
  if (zone.floodDepthMm > tray.rimMm) {
    return bad(
      topic,
      'siphon-may-not-start',
      'stop',
      `The siphon of tray ${code} starts at ${say.length(zone.floodDepthMm)}, but the rim is at ` +
        `${say.length(tray.rimMm)}: the water runs over first.`,
      'Lower the flood depth, or take a tray with a higher rim.',
    );
  }
  if (siphon?.starts === false && tray.short !== null && tray.peakMm < zone.floodDepthMm) {
    return bad(
      topic,
      'siphon-may-not-start',
      'stop',
      `The siphon of tray ${code} starts at ${say.length(zone.floodDepthMm)}, but the reservoir is empty ` +
        `when the water stands at ${say.length(tray.peakMm)}.`,
      'Take a larger reservoir, top up more often, or flood fewer trays at once.',
    );
  }
  if (trip === null) {
    return {
      topic,
      level: 'unknown',
      text:
        `Whether the siphon of tray ${code} starts cannot be told: its trip flow is not stated; ` +
        `${say.flow(inflowLMin)} come in.`,
      remedy:
        'Open a tap into the tray slowly until the siphon trips, catch the flow in a measuring jug ' +
        'for a minute, and enter it.',
      notice: { kind: 'siphon-may-not-start', severity: 'note' },
    };
  }
  if (inflowLMin < trip) {
    return bad(
      topic,
      'siphon-may-not-start',
      'stop',
      `${say.flow(inflowLMin)} come into tray ${code}, but its siphon trips only from ${say.flow(trip)} on. ` +
        trickles(tray, say),
      'Give the tray more flow (fewer trays at once, a stronger pump), or a siphon of smaller bore.',
    );
  }
  const words =
    `${say.flow(inflowLMin)} come into tray ${code}; its siphon trips from ${say.flow(trip)} on: ` +
    `margin ${formatShare(marginOf(inflowLMin, trip).share)}.`;
  if (inflowLMin < trip * (1 + CLOSE_SHARE)) {
    return close(topic, words, 'A little wear of the pump and it stays away: give more flow.');
  }
  return good(topic, words);
}

/** What the water does at a siphon that does not start: it goes over the crown as over a weir. */
function trickles({ zone, peakMm, rimMm, onS }: TrayFlood, say: Speech): string {
  const crown = say.length(zone.floodDepthMm);
  if (peakMm <= zone.floodDepthMm) {
    return `The water comes to ${say.length(peakMm)}, not over the crown at ${crown}, and stays.`;
  }
  const high = peakMm >= rimMm ? 'to the rim' : `to ${say.length(peakMm)}`;
  const stays = onS === null ? '' : `; once the pump stops, ${crown} stay in the tray`;
  return `The water rises ${high} and trickles over the crown at ${crown} without filling it${stays}.`;
}

function breakVerdict(tray: TrayFlood, say: Speech): FloodVerdict {
  const { siphon, inflowLMin, code, zone } = tray;
  const topic = 'Siphon breaks';
  const last = siphon?.fullAtBreakLMin ?? 0;
  const carries =
    `At ${say.length(zone.residualMm)}, where air should enter, the siphon of tray ${code} carries ` +
    `${say.flow(last)}`;
  if (siphon && !siphon.breaks) {
    const hang = siphon.hangsAtMm ?? zone.floodDepthMm;
    const where =
      hang >= tray.rimMm
        ? 'the water rises to the rim'
        : hang > zone.floodDepthMm
          ? `the water rises over the crown and hangs at ${say.length(hang)}`
          : `the water hangs at ${say.length(hang)}`;
    return bad(
      topic,
      'siphon-may-not-break',
      'warn',
      `${carries}, but ${say.flow(inflowLMin)} come in. ${capital(where)} and the siphon does not break while ` +
        'the pump runs.',
      'Give the tray less flow, or the siphon a wider bore, more drop or fewer bends.',
    );
  }
  const words =
    `${carries}, more than the ${say.flow(inflowLMin)} that come in: margin ` +
    `${formatShare(marginOf(last, inflowLMin).share)}.`;
  if (inflowLMin > last * (1 - CLOSE_SHARE)) {
    return close(topic, words, 'Weed or roots in the bell are enough to keep it hanging.');
  }
  return good(topic, words);
}
