import type { FloodPlan } from '../../../../shared-types/flood';
import type { TrayFlood } from '../tray/trayFlood';
import { bad, close, CLOSE_SHARE, good, unknown, type FloodVerdict } from './verdict';
import { duration, formatShare, type Speech } from '../../../words';

/** Whether it drains to its residual depth before the next flood. */
export function drainVerdict(flood: FloodPlan, tray: TrayFlood, say: Speech): FloodVerdict {
  const { zone, drainS, drainMargin, pauseS, standingMm, siphon, code } = tray;
  const never = (text: string, remedy: string) => bad(TOPIC, 'never-drains', 'stop', text, remedy);
  if (siphon?.starts === false) {
    return never(
      `Tray ${code} has no other way out than its siphon, which does not start: the water stands ` +
        `at ${say.length(pauseS === null ? tray.peakMm : standingMm)} until the next flood, and after.`,
      'Make the siphon start; see there.',
    );
  }
  if (drainS === null) {
    return never(
      `Tray ${code} comes to rest above its residual depth of ${say.length(zone.residualMm)}.`,
      'Set the drain at the lowest place of the tray.',
    );
  }
  const puddle = puddleWords(tray, say);
  const drains = `Tray ${code} drains to ${say.length(zone.residualMm)} in ${duration(drainS)}`;
  if (pauseS === null) return unknown(TOPIC, `${drains}.${puddle}`, 'State when it floods.');
  const stands = standingMm > zone.residualMm + 0.5;
  if (siphon && stands && !tray.continuous && drainS <= pauseS) return refills(flood, tray, say);
  if (!siphon && (tray.continuous || stands || drainS > pauseS)) {
    const pause = tray.continuous ? 'the pump never stops' : `the pause is ${duration(pauseS)}`;
    return never(
      `${drains}, but ${pause}: ${say.length(Math.max(standingMm, zone.residualMm))} of water still stand ` +
        'when the next flood comes.',
      'Flood less often, let the pump run shorter, or widen the drain.',
    );
  }
  if (siphon && drainS > pauseS && !tray.continuous) {
    return never(
      `${drains}, but the pause is ${duration(pauseS)}: the next flood comes before it is empty.`,
      'Flood less often, or give the siphon a wider bore.',
    );
  }
  if (tray.continuous) return good(TOPIC, `${drains} each time its siphon trips.${puddle}`);
  const share = drainMargin?.share ?? 0;
  const words = `${drains}; the next flood comes after ${duration(pauseS)}: margin ${formatShare(share)}.${puddle}`;
  if (share < CLOSE_SHARE) return close(TOPIC, words, 'Flood a little less often.');
  return good(TOPIC, words);
}

const TOPIC = 'Draining';

/** What stays below the drain of a tray that leans. */
function puddleWords({ vessel, zone }: TrayFlood, say: Speech): string {
  const pond = vessel.tilt.drainOverLowestMm;
  if (pond <= 0) return '';
  return ` At its low side ${say.length(pond + zone.residualMm)} stay, below the drain.`;
}

/** The pump stops between two trips of the siphon. */
function refills(flood: FloodPlan, tray: TrayFlood, say: Speech): FloodVerdict {
  const { code, standingMm } = tray;
  const deep = standingMm >= flood.leastWetShare * tray.rootZoneMm;
  return bad(
    TOPIC,
    'never-drains',
    deep ? 'warn' : 'note',
    `The pump stops while the siphon of tray ${code} is filling again: ${say.length(standingMm)} of ` +
      'water stand until the next flood.',
    `Let the pump run a little longer than one filling, ${duration(tray.fillFirstS ?? 0)}.`,
  );
}
