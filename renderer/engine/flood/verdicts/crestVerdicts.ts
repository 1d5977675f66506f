import type { FloodPlan } from '../../../../shared-types/flood';
import type { Pot } from '../../geometry';
import type { TrayFlood } from '../tray/trayFlood';
import { bad, close, good, type FloodVerdict } from './verdict';
import { capital, duration, formatShare, type Speech } from '../../../words';

/** Media stay dry on top by this much at least, against algae (habit of the trade). */
const DRY_TOP_MM = 10;
/** Under the rim this much is left for waves and for a tray askew (habit of the trade). */
const FREEBOARD_MM = 5;
/** Pots of one tray whose wet depths differ by more than this share of the deepest. */
const UNEVEN_SHARE = 0.25;

/** The highest water against rim, roots, pots and leaves, and over a tray that is not level. */
export function crestVerdicts(flood: FloodPlan, tray: TrayFlood, say: Speech): FloodVerdict[] {
  return [
    overflowVerdict(tray, say),
    rootVerdict(flood, tray, say),
    ...potRimVerdict(tray, say),
    leafVerdict(flood, tray, say),
    ...levelVerdict(tray, say),
  ];
}

function overflowVerdict(tray: TrayFlood, say: Speech): FloodVerdict {
  const { zone, peakMm, rimMm, code } = tray;
  const topic = 'Rim';
  const low = tray.vessel.tilt.drainOverLowestMm;
  const rim = `the rim${low > 0 ? ' at its low side' : ''} is at ${say.length(rimMm)}`;
  const spilt = tray.spilledL > 0 ? ` ${say.volume(tray.spilledL)} go over the rim in a day.` : '';
  if (zone.floodDepthMm >= rimMm) {
    const set = `The flood depth of tray ${code} is set to ${say.length(zone.floodDepthMm)}, but ${rim}`;
    return bad(
      topic,
      'overtops',
      tray.spills ? 'stop' : 'warn',
      tray.spills
        ? `${set}: the tray runs over before its drain acts.${spilt}`
        : `${set}. Only ${tray.wouldSpill ? 'the empty reservoir' : "the pump's short run"} keeps it from running over: the water comes to ` +
            `${say.length(peakMm)}.`,
      'Lower the flood depth, or take a tray with a higher rim.',
    );
  }
  if (tray.spills) {
    const why =
      zone.drain.kind === 'valve'
        ? `its valve stays shut while the pump runs ${tray.onS === null ? '' : duration(tray.onS)}`
        : zone.drain.kind === 'siphon'
          ? tray.siphon?.starts === false
            ? `its siphon does not start at ${say.flow(tray.inflowLMin)}`
            : `its siphon carries ${say.flow(tray.siphon?.fullAtCrestLMin ?? 0)} of the ${say.flow(tray.inflowLMin)} that come in`
          : `its overflow of ${say.length(zone.drain.overflowBoreMm)} bore needs more height than that to carry ${say.flow(tray.inflowLMin)}`;
    return bad(
      topic,
      'overtops',
      'stop',
      `Tray ${code} runs over.${spilt} Above its drain at ${say.length(zone.floodDepthMm)} the water rises ` +
        `to the rim, because ${why}. ${capital(rim)}.`,
      zone.drain.kind === 'valve'
        ? 'Let the pump run shorter, or add an overflow pipe.'
        : 'Widen the overflow, lower the flood depth, or give the tray less flow.',
    );
  }
  if (tray.wouldSpill) {
    return bad(
      topic,
      'overtops',
      'warn',
      `Only the empty reservoir keeps tray ${code} from running over: the water comes to ` +
        `${say.length(peakMm)}; ${rim}.`,
      'Let the pump run shorter, widen the overflow, or lower the flood depth.',
    );
  }
  const spare = rimMm - peakMm;
  const words = `The water of tray ${code} comes to ${say.length(peakMm)}; ${rim}, ${say.length(spare)} higher.`;
  if (spare < FREEBOARD_MM) {
    const remedy = `Leave ${say.length(FREEBOARD_MM)} or more for waves and for a tray askew.`;
    return close(topic, words, remedy);
  }
  return good(topic, words);
}

function rootVerdict(flood: FloodPlan, tray: TrayFlood, say: Speech): FloodVerdict {
  const { peakMm, wetAtPeak, wetMean, wetTime, code } = tray;
  const topic = 'Root zone';
  if (tray.zone.floodDepthMm <= tray.zone.residualMm) {
    return bad(
      topic,
      'too-shallow',
      'stop',
      `The flood depth of tray ${code}, ${say.length(tray.zone.floodDepthMm)}, is not above the ` +
        `${say.length(tray.zone.residualMm)} that never drain: there is no flood.`,
      'Raise the flood depth, or lower the depth below which nothing drains.',
    );
  }
  const wet = tray.short === null ? wetAtPeak : tray.wetAtLeast;
  const highest = say.length(peakMm);
  const lowest = tray.short && say.length(Math.max(0, tray.short.leastMm));
  const least =
    lowest === null || lowest === highest ? '' : `, but to ${lowest} where the reservoir is empty`;
  const words =
    `Tray ${code} floods to ${highest}${least}: ${formatShare(wet)} of the root zone's ` +
    `${say.length(tray.rootZoneMm)}`;
  const day = `water stands in the tray ${formatShare(wetTime)} of the day, and over the day ${formatShare(wetMean)} of the root zone is under water, residual water included`;
  if (wet < flood.leastWetShare) {
    return bad(
      topic,
      'too-shallow',
      'warn',
      `${words}; the plan asks for at least ${formatShare(flood.leastWetShare)}.`,
      tray.short || tray.emptiedS !== null
        ? 'Take a larger reservoir, top up more often, or flood fewer trays at once.'
        : 'Raise the flood depth or let the pump run longer; or ask for less, where the medium draws ' +
            'water up well.',
    );
  }
  return good(topic, `${words}; ${day}.`);
}

function potRimVerdict(tray: TrayFlood, say: Speech): FloodVerdict[] {
  const depthAt = (pot: Pot) => tray.potDepthMm.get(pot.id) ?? 0;
  const least = (a: Pot, b: Pot) => (b.heightMm - depthAt(b) < a.heightMm - depthAt(a) ? b : a);
  const [first, ...others] = tray.vessel.pots;
  if (!first) return [];
  const pot = others.reduce<Pot>(least, first);
  const [height, deepest] = [pot.heightMm, depthAt(pot)];
  const alike = others.every(({ heightMm }) => heightMm === height);
  const topic = 'Pot rim';
  const words = alike
    ? `At the deepest pot of tray ${tray.code} the water comes to ${say.length(deepest)}, and the pots are ${say.length(height)} high`
    : `At pot ${pot.code} the water comes to ${say.length(deepest)}, and that pot is ${say.length(height)} high`;
  if (deepest >= height) {
    return [
      bad(
        topic,
        'pot-rim-wet',
        'warn',
        `${words}. It runs into them from above, floats light media out and leaves algae.`,
        'Lower the flood depth, or take higher pots.',
      ),
    ];
  }
  if (height - deepest < DRY_TOP_MM) {
    const remedy = `Keep the top ${say.length(DRY_TOP_MM)} or more dry, against algae.`;
    return [close(topic, `${words}.`, remedy)];
  }
  return [good(topic, `${words}, ${say.length(height - deepest)} of them stay dry.`)];
}

function leafVerdict(flood: FloodPlan, tray: TrayFlood, say: Speech): FloodVerdict {
  const deepest = Math.max(tray.peakMm, ...tray.potDepthMm.values());
  const topic = 'Leaf line';
  const words = `The water of tray ${tray.code} comes to ${say.length(deepest)}, the lowest leaves hang at ${say.length(flood.leafLineMm)}`;
  if (deepest >= flood.leafLineMm) {
    return bad(
      topic,
      'leaf-line-wet',
      'warn',
      `${words}: they are wetted at every flood.`,
      'Lower the flood depth, or lift the plants.',
    );
  }
  return good(topic, `${words}, ${say.length(flood.leafLineMm - deepest)} higher.`);
}

function levelVerdict(tray: TrayFlood, say: Speech): FloodVerdict[] {
  const { vessel, code, potDepthMm } = tray;
  const { tilt, pots } = vessel;
  if (tilt.fallMm === 0) return [];
  const topic = 'Level';
  const depths = [...potDepthMm.values()];
  const all = depths.length > 0 ? depths : [tray.peakMm, Math.max(0, tray.peakMm - tilt.fallMm)];
  const deepest = Math.max(...all);
  const shallowest = Math.min(...all);
  const dry = pots.filter((pot) => (potDepthMm.get(pot.id) ?? 0) <= 0);
  const words =
    `Tray ${code} falls ${say.length(tilt.fallMm)} from its highest corner to its lowest. Its pots stand in ` +
    `${say.length(shallowest)} to ${say.length(deepest)} of water`;
  const remedy =
    'Level the tray with shims and a spirit level; until then take the wet depth as a covariate.';
  if (dry.length > 0) {
    const first = dry[0]?.code ?? '';
    const text = `${words}; ${dry.length} of ${pots.length} get none at all, first ${first}.`;
    return [bad(topic, 'tray-not-level', 'stop', text, remedy)];
  }
  if (deepest - shallowest > UNEVEN_SHARE * deepest) {
    const share = formatShare((deepest - shallowest) / deepest);
    const text = `${words}, ${share} apart. What grows better may just have drunk more.`;
    return [bad(topic, 'tray-not-level', 'warn', text, remedy)];
  }
  return [good(topic, `${words}.`)];
}
