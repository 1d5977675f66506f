import type { FloodPlan } from '../../../shared-types/flood';
import { siphonVerdicts } from './siphonVerdicts';
import type { TrayFlood } from './trayFlood';
import { bad, close, good, unknown, type Verdict } from './verdict';
import { duration, figure, flow, mm } from './words';

/** Less spare time than this share of the pump's run is called close. */
const CLOSE_SHARE = 0.1;
/** Media stay dry on top by this much at least, against algae (habit of the trade). */
const DRY_TOP_MM = 10;
/** Pots of one tray whose wet depths differ by more than this share of the deepest. */
const UNEVEN_SHARE = 0.25;

/** Everything that can be said of one tray, in the order in which the water goes. */
export function trayVerdicts(flood: FloodPlan, tray: TrayFlood): Verdict[] {
  if (tray.inflowLMin <= 0) return [noWater(tray), ...crestVerdicts(flood, tray)];
  return [
    fillVerdict(tray),
    ...siphonVerdicts(tray),
    drainVerdict(flood, tray),
    ...crestVerdicts(flood, tray),
  ];
}

function noWater(tray: TrayFlood): Verdict {
  const { pump } = tray.zone;
  const most = Math.max(...pump.curve.map((point) => point.headM));
  return bad(
    'Lift',
    'pump-below-head',
    'stop',
    `The water of tray ${tray.code} must be lifted ${figure(tray.liftM)} m to its crest, but the ` +
      `curve of ${pump.name} ends at a head of ${figure(most)} m: nothing reaches the tray.`,
    'Choose a pump with more head, raise the reservoir, or put the tray on a lower shelf.',
  );
}

function fillVerdict(tray: TrayFlood): Verdict {
  const { zone, fillFirstS, fillLaterS, onS, inflowLMin, code } = tray;
  const topic = 'Filling';
  const gets = `Tray ${code} gets ${flow(inflowLMin)}`;
  if (fillFirstS === null) {
    return bad(
      topic,
      'never-fills',
      'stop',
      `${gets}, but so much leaks through the open return that the water never reaches the crest ` +
        `at ${mm(zone.crestMm)}; it comes to rest at ${mm(tray.peakMm)} in the pump's time.`,
      'Choose a smaller return hole, a return through the pump, or a pump with more flow.',
    );
  }
  const fill = `fills to ${mm(zone.crestMm)} in ${duration(fillFirstS)} from dry`;
  if (onS === null) {
    return unknown(topic, `${gets} and ${fill}; no schedule is stated.`, 'State when it floods.');
  }
  if (onS < fillFirstS) {
    const later =
      fillLaterS !== null && fillLaterS <= onS
        ? ` Later floods, with media still moist, fill in ${duration(fillLaterS)}.`
        : ` The water comes to ${mm(tray.peakMm)}.`;
    return bad(
      topic,
      'never-fills',
      fillLaterS !== null && fillLaterS <= onS ? 'warn' : 'stop',
      `${gets} and ${fill}, but the pump runs only ${duration(onS)}.${later}`,
      `Let the pump run ${duration(fillFirstS * (1 + CLOSE_SHARE))} or longer, or give it more flow.`,
    );
  }
  const spare = onS - fillFirstS;
  const words = `${gets} and ${fill}; the pump runs ${duration(onS)}, ${duration(spare)} longer.`;
  if (spare < CLOSE_SHARE * onS) {
    return close(topic, words, 'A little wear of the pump eats this up: let it run longer.');
  }
  return good(topic, words);
}

function drainVerdict(flood: FloodPlan, tray: TrayFlood): Verdict {
  const { zone, drainS, pauseS, standingMm, siphon, code } = tray;
  const topic = 'Draining';
  const pond = tray.vessel.tilt.drainOverLowestMm;
  const puddle =
    pond > 0 ? ` At its low side ${mm(pond + zone.residualMm)} stay, below the drain.` : '';
  if (siphon?.starts === false) {
    return bad(
      topic,
      'never-drains',
      'stop',
      `Tray ${code} has no other way out than its siphon, which does not start: the water stands ` +
        `at ${mm(zone.crestMm)} until the next flood, and after.`,
      'Make the siphon start; see there.',
    );
  }
  if (drainS === null) {
    return bad(
      topic,
      'never-drains',
      'stop',
      `Tray ${code} comes to rest above its residual depth of ${mm(zone.residualMm)}.`,
      'Set the drain at the lowest place of the tray.',
    );
  }
  const drains = `Tray ${code} drains to ${mm(zone.residualMm)} in ${duration(drainS)}`;
  if (pauseS === null) return unknown(topic, `${drains}.${puddle}`, 'State when it floods.');
  const stands = standingMm > zone.residualMm + 0.5;
  if (siphon && stands && !tray.continuous && drainS <= pauseS) {
    const deep = standingMm >= flood.leastWetShare * flood.rootZoneTopMm;
    return bad(
      topic,
      'never-drains',
      deep ? 'warn' : 'note',
      `The pump stops while the siphon of tray ${code} is filling again: ${mm(standingMm)} of ` +
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
      `${drains}, but ${pause}: ${mm(Math.max(standingMm, zone.residualMm))} of water still stand ` +
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
  const words = `${drains}; the next flood comes after ${duration(pauseS)}.${puddle}`;
  if (drainS > (1 - CLOSE_SHARE) * pauseS) return close(topic, words, 'Flood a little less often.');
  return good(topic, words);
}

function crestVerdicts(flood: FloodPlan, tray: TrayFlood): Verdict[] {
  return [
    overflowVerdict(tray),
    rootVerdict(flood, tray),
    ...potRimVerdict(tray),
    leafVerdict(flood, tray),
    ...levelVerdict(tray),
  ];
}

function overflowVerdict(tray: TrayFlood): Verdict {
  const { zone, peakMm, rimMm, code } = tray;
  const topic = 'Rim';
  const low = tray.vessel.tilt.drainOverLowestMm;
  const rim = `the rim${low > 0 ? ' at its low side' : ''} is at ${mm(rimMm)}`;
  if (zone.crestMm >= rimMm) {
    return bad(
      topic,
      'overtops',
      'stop',
      `The crest of tray ${code} is set to ${mm(zone.crestMm)}, but ${rim}: the tray runs over ` +
        'before its drain acts.',
      'Lower the crest, or take a tray with a higher rim.',
    );
  }
  if (tray.spills) {
    const why =
      zone.drain.kind === 'valve'
        ? `its valve stays shut while the pump runs ${tray.onS === null ? '' : duration(tray.onS)}`
        : zone.drain.kind === 'siphon'
          ? `its siphon carries ${flow(tray.siphon?.fullAtCrestLMin ?? 0)} of the ${flow(tray.inflowLMin)} that come in`
          : `its overflow of ${mm(zone.drain.overflowBoreMm)} bore needs more height than that to carry ${flow(tray.inflowLMin)}`;
    return bad(
      topic,
      'overtops',
      'stop',
      `Tray ${code} runs over: above its crest at ${mm(zone.crestMm)} the water rises to the rim, ` +
        `because ${why}; ${rim}.`,
      zone.drain.kind === 'valve'
        ? 'Let the pump run shorter, or add an overflow pipe.'
        : 'Widen the overflow, lower the crest, or give the tray less flow.',
    );
  }
  const spare = rimMm - Math.max(peakMm, zone.crestMm);
  const words = `The water of tray ${code} comes to ${mm(peakMm)}; ${rim}, ${mm(spare)} higher.`;
  if (spare < 5) return close(topic, words, 'Leave 5 mm or more for waves and for a tray askew.');
  return good(topic, words);
}

function rootVerdict(flood: FloodPlan, tray: TrayFlood): Verdict {
  const { peakMm, wetAtPeak, wetMean, wetTime, code } = tray;
  const topic = 'Root zone';
  const percent = (share: number) => `${figure(share * 100, 2)} %`;
  const words =
    `Tray ${code} floods to ${mm(peakMm)}: ${percent(wetAtPeak)} of the root zone's ` +
    `${mm(flood.rootZoneTopMm)}`;
  const day = `water stands in the tray ${percent(wetTime)} of the day, and over the day ${percent(wetMean)} of the root zone is under water, residual water included`;
  if (wetAtPeak < flood.leastWetShare) {
    return bad(
      topic,
      'too-shallow',
      'warn',
      `${words}; the plan asks for at least ${percent(flood.leastWetShare)}.`,
      'Raise the crest or let the pump run longer; or ask for less, where the medium draws water ' +
        'up well.',
    );
  }
  return good(topic, `${words}; ${day}.`);
}

function potRimVerdict(tray: TrayFlood): Verdict[] {
  const height = tray.vessel.pots[0]?.heightMm;
  if (height === undefined) return [];
  const deepest = Math.max(...tray.potDepthMm.values());
  const topic = 'Pot rim';
  const words = `At the deepest pot of tray ${tray.code} the water comes to ${mm(deepest)}; the pots are ${mm(height)} high`;
  if (deepest >= height) {
    return [
      bad(
        topic,
        'pot-rim-wet',
        'warn',
        `${words}: it runs into them from above, floats light media out and leaves algae.`,
        'Lower the crest, or take higher pots.',
      ),
    ];
  }
  if (height - deepest < DRY_TOP_MM) {
    const remedy = `Keep the top ${DRY_TOP_MM} to 20 mm dry, against algae.`;
    return [close(topic, `${words}.`, remedy)];
  }
  return [good(topic, `${words}, ${mm(height - deepest)} of them stay dry.`)];
}

function leafVerdict(flood: FloodPlan, tray: TrayFlood): Verdict {
  const deepest = Math.max(tray.peakMm, ...tray.potDepthMm.values());
  const topic = 'Leaf line';
  const words = `The water of tray ${tray.code} comes to ${mm(deepest)}, the lowest leaves hang at ${mm(flood.leafLineMm)}`;
  if (deepest >= flood.leafLineMm) {
    return bad(
      topic,
      'leaf-line-wet',
      'warn',
      `${words}: they are wetted at every flood.`,
      'Lower the crest, or lift the plants.',
    );
  }
  return good(topic, `${words}, ${mm(flood.leafLineMm - deepest)} higher.`);
}

function levelVerdict(tray: TrayFlood): Verdict[] {
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
    `Tray ${code} falls ${mm(tilt.fallMm)} from its highest corner to its lowest: its pots stand in ` +
    `${mm(shallowest)} to ${mm(deepest)} of water`;
  const remedy =
    'Level the tray with shims and a spirit level; until then take the wet depth as a covariate.';
  if (dry.length > 0) {
    const first = dry[0]?.code ?? '';
    const text = `${words}; ${dry.length} of ${pots.length} get none at all, first ${first}.`;
    return [bad(topic, 'tray-not-level', 'stop', text, remedy)];
  }
  if (deepest - shallowest > UNEVEN_SHARE * deepest) {
    const share = figure((100 * (deepest - shallowest)) / deepest, 2);
    const text = `${words}, ${share} % apart: what grows better may just have drunk more.`;
    return [bad(topic, 'tray-not-level', 'warn', text, remedy)];
  }
  return [good(topic, `${words}.`)];
}
