import type { FloodPlan } from '../../../../shared-types/flood';
import { noticeLabels } from '../../../../shared-types/noticeLabels';
import type { NoticeKind } from '../../../../shared-types/notice';
import { duration, list, type Speech } from '../../../words';
import type { TrayFlood } from '../tray/trayFlood';
import { needsAndGets } from '../words';
import type { ZoneFlood } from '../zoneFlood';
import { trayVerdicts } from './trayVerdicts';
import { bad, good, unknown, type FloodVerdict } from './verdict';
import { reservoirVerdict } from './verdicts';

/** One sentence where all trays of some zones go well, else one for each thing that is wrong with some. */
export function zoneSummary(
  flood: FloodPlan,
  zones: readonly ZoneFlood[],
  say: Speech,
): FloodVerdict[] {
  const trays = zones.flatMap((zone) => zone.trays);
  if (trays.length === 0) return [unknown(TOPIC, 'No tray is flooded.', 'Tick its trays.')];
  const flaws = new Map<NoticeKind, { verdict: FloodVerdict; trays: TrayFlood[] }>();
  for (const tray of trays) {
    for (const verdict of trayVerdicts(flood, tray, say)) {
      if (!verdict.notice || verdict.notice.severity === 'note') continue;
      const known = flaws.get(verdict.notice.kind);
      if (known) known.trays.push(tray);
      else flaws.set(verdict.notice.kind, { verdict, trays: [tray] });
    }
  }
  for (const [effect, cause] of FOLLOWS) {
    const already = flaws.get(cause)?.trays ?? [];
    if (flaws.get(effect)?.trays.every((tray) => already.includes(tray))) flaws.delete(effect);
  }
  const told = [...flaws].map(([kind, { verdict, trays: those }]) =>
    bad(
      TOPIC,
      kind,
      verdict.notice?.severity ?? 'warn',
      flawWords(kind, those, trays.length, say),
      verdict.remedy,
    ),
  );
  told.push(...reservoirFlaws(zones, say));
  if (told.length > 0) return told;
  if (zones.every(({ runs }) => runs.length === 0)) {
    return [
      unknown(TOPIC, `${fillWords(trays, say)}; no hours are stated.`, 'State when it floods.'),
    ];
  }
  return [good(TOPIC, `${fillWords(trays, say)} and ${drainWords(trays)}.`)];
}

const TOPIC = 'Flooding';

/** What need not be said of a tray of which its cause is said. */
const FOLLOWS: readonly (readonly [NoticeKind, NoticeKind])[] = [
  ['too-shallow', 'never-fills'],
  ['never-drains', 'siphon-may-not-start'],
];

/** `Tray 1A`, `Both trays`, `All 9 trays`, `2 of 9 trays (1A and 2C)`. */
function which(trays: readonly TrayFlood[], of: number): string {
  const codes = trays.map(({ code }) => code);
  if (of === 1) return `Tray ${codes.join()}`;
  if (trays.length === of) return of === 2 ? 'Both trays' : `All ${of} trays`;
  const some = codes.length > 3 ? [...codes.slice(0, 3), 'others'] : codes;
  return `${trays.length} of ${of} trays (${list(some)})`;
}

const verb = (trays: readonly unknown[], one: string, many: string): string =>
  trays.length === 1 ? one : many;

function fillWords(trays: readonly TrayFlood[], say: Speech): string {
  const depth = range(
    trays.map(({ peakMm }) => Math.round(peakMm)),
    say.length,
  );
  const times = trays.flatMap(({ fillFirstS }) => (fillFirstS === null ? [] : [fillFirstS]));
  return `${which(trays, trays.length)} ${verb(trays, 'floods', 'flood')} to ${depth} in ${durations(times)}`;
}

function drainWords(trays: readonly TrayFlood[]): string {
  const times = trays.flatMap(({ drainS }) => (drainS === null ? [] : [drainS]));
  return `${verb(trays, 'drains', 'drain')} in ${durations(times)}`;
}

const durations = (seconds: readonly number[]): string => range(seconds, duration);

/** `43–70 s`, `50 s to 2 min`, `40 mm`: the least and the most of some figures. */
function range(values: readonly number[], say: (value: number) => string): string {
  const first = say(Math.min(...values));
  const last = say(Math.max(...values));
  if (first === last) return first;
  const unit = last.slice(last.indexOf(' '));
  return first.endsWith(unit) ? `${first.slice(0, -unit.length)}–${last}` : `${first} to ${last}`;
}

function flawWords(kind: NoticeKind, trays: readonly TrayFlood[], of: number, say: Speech): string {
  const those = which(trays, of);
  const [worst] = [...trays].sort((a, b) => a.firstReachMm - b.firstReachMm);
  if (!worst) return those;
  switch (kind) {
    case 'never-fills':
      return `${those}: ${fillFlaw(worst, say)}.`;
    case 'never-drains':
      return `${those}: ${drainFlaw(worst, say)}.`;
    case 'overtops':
      return `${those}: runs over the rim.`;
    case 'roots-too-wet':
      return `${those}: water stands for more than half of the day.`;
    default:
      return `${those}: ${noticeLabels[kind]}.`;
  }
}

/** `needs 6 min, gets 2: reaches 13 of 40 mm in the 2 min the pump runs`. */
function fillFlaw(tray: TrayFlood, say: Speech): string {
  const { fillFirstS, onS, emptiedS, firstReachMm, zone, rimMm, short } = tray;
  const goal = say.length(Math.min(zone.floodDepthMm, rimMm));
  const got = say.length(Math.max(0, Math.round(firstReachMm)));
  const unit = goal.slice(goal.indexOf(' '));
  const reaches = `reaches ${got.endsWith(unit) ? got.slice(0, -unit.length) : got} of ${goal}`;
  if (emptiedS !== null) return `${reaches}, then the reservoir is empty`;
  if (fillFirstS === null) return `${reaches}; the rest leaks through the open return`;
  if (onS !== null && fillFirstS > onS) {
    return `${needsAndGets(fillFirstS, onS)}: ${reaches} in the ${duration(onS)} the pump runs`;
  }
  return short === null
    ? reaches
    : `the reservoir runs dry before it is topped up; ${short.floods} of ${short.of} floods fall short`;
}

function drainFlaw(tray: TrayFlood, say: Speech): string {
  const { drainS, pauseS, siphon, continuous, standingMm } = tray;
  if (siphon?.starts === false) return 'does not drain, for its siphon does not start';
  if (drainS === null) return 'does not drain to its lowest depth';
  if (continuous) return 'does not drain, for the pump never stops';
  if (pauseS !== null && drainS > pauseS) {
    return `drains in ${duration(drainS)}, but the next flood comes after ${duration(pauseS)}`;
  }
  return `${say.length(standingMm)} of water still stand when the next flood comes`;
}

/** Of the reservoirs that are too small, the one that lacks most. */
function reservoirFlaws(zones: readonly ZoneFlood[], say: Speech): FloodVerdict[] {
  const lacking = ({ zone, leastReservoirL }: ZoneFlood) => leastReservoirL - zone.reservoirL;
  const [worst] = zones
    .filter((zone) => reservoirVerdict(zone, say).notice !== null)
    .sort((a, b) => lacking(b) - lacking(a));
  return worst ? [{ ...reservoirVerdict(worst, say), text: reservoirWords(worst, say) }] : [];
}

function reservoirWords(found: ZoneFlood, say: Speech): string {
  const { zone, neededL, leastReservoirL, spilledL } = found;
  if (spilledL > 0) {
    return `The reservoir holds ${say.volume(zone.reservoirL)}; what runs over empties it.`;
  }
  const least = say.volume(Math.ceil(leastReservoirL));
  return zone.reservoirL < neededL
    ? `The reservoir holds ${say.volume(zone.reservoirL)} and runs dry; ${least} are needed.`
    : `The reservoir holds ${say.volume(zone.reservoirL)}; ${least} leave the usual fifth to spare.`;
}
