import type { FloodPlan } from '../../../../shared-types/flood';
import { CONTINUOUS_SHARE, type CircuitLoad } from '../circuits';
import { loadCaseWords, type ShelfLoad } from '../load';
import type { TrayFlood } from '../tray/trayFlood';
import { bad, close, good, unknown, type FloodVerdict } from './verdict';
import { RESERVOIR_MARGIN, type ZoneFlood } from '../zoneFlood';
import { clock, duration, figure, formatShare, list, type Speech } from '../../../words';

export { trayVerdicts } from './trayVerdicts';
export type { FloodVerdict } from './verdict';

/** Share of a shelf's rating that should stay free in the heaviest case. */
const CLOSE_LOAD_SHARE = 0.2;

/** The reservoir of a zone against all that may be out of it at once. */
export function reservoirVerdict(z: ZoneFlood, say: Speech): FloodVerdict {
  const { zone, drawL, uptakeL, evaporationL, spilledL, neededL, leastReservoirL, margin } = z;
  const topic = 'Reservoir';
  const lasts = zone.reservoirL >= neededL;
  const sum =
    `${say.volume(drawL)} are ${lasts ? '' : 'to be '}out at once and ${say.volume(uptakeL + evaporationL)} are used up between two ` +
    `top-ups (estimate). ${spilledL > 0 ? `${say.volume(spilledL)} would run over the rims and ` : ''}${say.volume(zone.deadVolumeL)} are unusable volume`;
  const holds = `The reservoir of ${zone.name} holds ${say.volume(zone.reservoirL)}`;
  const usual = `with the usual ${formatShare(RESERVOIR_MARGIN - 1)} more`;
  const remedy =
    spilledL > 0
      ? 'Keep the trays from running over: no reservoir makes up for that.'
      : `Take a reservoir of ${say.volume(Math.ceil(leastReservoirL))} or more, top up more often, or flood fewer trays at once.`;
  if (!lasts) {
    const text =
      `${holds}, ${say.volume(-margin.spare)} less than is needed. ${sum}: ${say.volume(neededL)} ` +
      `together. ${emptied(z)}`;
    return bad(topic, 'reservoir-too-small', 'stop', text, remedy);
  }
  const left = `${say.volume(margin.spare)} are left, margin ${formatShare(margin.share)}`;
  if (zone.reservoirL < leastReservoirL) {
    return bad(
      topic,
      'reservoir-too-small',
      'warn',
      `${holds}. ${sum}. ${left}; ${usual} it should hold ${say.volume(leastReservoirL)}.`,
      remedy,
    );
  }
  return good(
    topic,
    `${holds}. ${sum}. ${left}; ${usual} ${say.volume(leastReservoirL)} would do.`,
  );
}

/** When the pump runs dry, as far as the day before a top-up shows it. */
function emptied({ dry }: ZoneFlood): string {
  const [first] = dry;
  if (!first) return 'It may run dry before it is topped up.';
  const minutes = duration(dry.reduce((sum, { startS, endS }) => sum + endS - startS, 0));
  return (
    `It runs dry at ${clock(first.startS / 3600)} on the day before a top-up, and for ${minutes} of ` +
    'that day the pump brings only what drains back.'
  );
}

/** Whether the root zone ends within the pots; nothing to tell where it does in all of them. */
export function rootZoneVerdicts(
  flood: FloodPlan,
  trays: Iterable<TrayFlood>,
  say: Speech,
): (FloodVerdict & { trayIds: string[] })[] {
  const over = [...trays].filter((tray) => tray.rootZoneMm < flood.rootZoneTopMm);
  if (over.length === 0) return [];
  const heights = [...new Set(over.map((tray) => say.length(tray.rootZoneMm)))];
  const text =
    `The root zone is set to ${say.length(flood.rootZoneTopMm)}, but the pots of ` +
    `${over.length === 1 ? 'tray' : 'trays'} ${list(over.map(({ code }) => code))} are only ` +
    `${list(heights)} high. There it is taken to end at their rims.`;
  const remedy = 'Enter how high the roots reach above the tray’s floor, or the pots’ height.';
  const notice = { kind: 'root-zone-over-pot', severity: 'note' } as const;
  const trayIds = over.map(({ trayId }) => trayId);
  return [{ topic: 'Root zone', level: 'bad', text, remedy, notice, trayIds }];
}

/** The load of a shelf against its rating, in its heaviest case. */
export function loadVerdict(load: ShelfLoad, say: Speech): FloodVerdict {
  const { shelf, casesKg, heaviest, ratedKg, margin } = load;
  const topic = 'Load';
  const most = `Shelf ${shelf.number} is heaviest with ${loadCaseWords[heaviest]}: ${say.mass(casesKg[heaviest])}`;
  if (ratedKg === null || margin === null) {
    return unknown(topic, `${most}; no rated load is stated.`, 'Enter the maker’s rated load.');
  }
  const rated = `it is rated for ${say.mass(ratedKg)}`;
  const remedy =
    'Take a tray off, lower the flood depth or the rim, put the heavy trays lowest, or have a shelf of a ' +
    'higher rating.';
  const usual = casesKg.flooded;
  if (usual > ratedKg) {
    return bad(
      topic,
      'shelf-overloaded',
      'stop',
      `Shelf ${shelf.number} carries ${say.mass(usual)} with ${loadCaseWords.flooded}, but ${rated}. ${most}.`,
      remedy,
    );
  }
  if (margin.spare < 0) {
    return bad(
      topic,
      'shelf-overloaded',
      'warn',
      `${most}, but ${rated}. At every flood it carries ${say.mass(usual)}.`,
      `${remedy} A second overflow keeps a blocked drain from filling a tray.`,
    );
  }
  const words = `${most}; ${rated}: ${say.mass(margin.spare)} are left, margin ${formatShare(margin.share)}.`;
  if (margin.share < CLOSE_LOAD_SHARE) return close(topic, words, 'Leave a fifth or more free.');
  return good(topic, words);
}

/** Connected load against what the person states the breaker to be. No verdict on the wiring. */
export function circuitVerdict(load: CircuitLoad): FloodVerdict {
  const { circuit, currentA, continuousA, totalW, margin } = load;
  const topic = 'Circuit';
  const words =
    `${circuit.name}: ${figure(totalW)} W are connected, ${figure(currentA)} A at ` +
    `${figure(circuit.voltageV)} V and power factor ${figure(circuit.powerFactor)}; its breaker is ` +
    `stated as ${figure(circuit.breakerA)} A`;
  const remedy =
    'Move lamps or pumps to another circuit, or ask a licensed electrician; local codes govern.';
  if (currentA > circuit.breakerA) {
    return bad(topic, 'circuit-overloaded', 'stop', `${words}: more than it lets through.`, remedy);
  }
  const usual = `Lamps and pumps count as continuous load, for which the usual limit is ${formatShare(CONTINUOUS_SHARE)} of it, ${figure(continuousA)} A`;
  if (currentA > continuousA * (1 + 1e-9)) {
    return bad(topic, 'circuit-overloaded', 'warn', `${words}. ${usual}.`, remedy);
  }
  return good(
    topic,
    `${words}. ${usual}: ${figure(margin.spare)} A are left, margin ${formatShare(margin.share)}.`,
  );
}
