import { hasAllStarts } from '../site/site';
import type { Site } from '../site/site';
import type { Stream } from '../stream';
import type { LevelNumbers } from './levels';
import { Refusal } from '../../../words';
import { add, num, real, whole } from '../../entry';

/** How plants are taken to grow: what the trial is judged by, in its own unit. */
export interface HarvestModel {
  /** Change for every µmol m⁻² s⁻¹ above the mean light. */
  perUmol: number;
  /** What an edge pot has more (or, negative, less) than an inner one. */
  edgeEffect: number;
  /** Standard deviations between plants, trays of a shelf, and shelves, all else alike. */
  plantSd: number;
  traySd: number;
  shelfSd: number;
  /** Chance that a plant dies before harvest. */
  deadShare: number;
  /** Correlation of a plant's starting value with how it differs from its like at harvest. */
  startCorrelation: number;
}

/** A difference between differences, carried by the first and last levels of its factors. */
export interface InteractionEffect {
  factorIds: readonly string[];
  difference: number;
}

export interface TrueEffects {
  /** Shift of the response by factor id and level id; what is left out is 0. */
  levels: Readonly<Record<string, Readonly<Record<string, number>>>>;
  interactions: readonly InteractionEffect[];
}

/** One harvest over the measured pots, in their order. */
export interface Harvest {
  /** Without any treatment effect. */
  untreated: Float64Array;
  /** With the true effects added. */
  treated: Float64Array;
  alive: Uint8Array;
  /** Starting values in standard deviations from their mean. */
  start: Float64Array;
}

/** Throws, naming the figure, where the model is impossible. */
export function checkModel(model: HarvestModel): void {
  const refuse = (name: string, expected: string): never => {
    const found = model[name as keyof HarvestModel];
    throw new Refusal(`rehearsal: ${name} of ${found} was found; ${expected} is expected`);
  };
  for (const name of ['plantSd', 'traySd', 'shelfSd'] as const) {
    if (!(model[name] >= 0 && model[name] < Infinity)) refuse(name, '0 or more');
  }
  if (model.plantSd === 0) refuse('plantSd', 'above 0, for plants always differ, ');
  if (!(model.deadShare >= 0 && model.deadShare < 1)) refuse('deadShare', '0 to less than 1');
  const { startCorrelation } = model;
  if (!(startCorrelation > -1 && startCorrelation < 1)) {
    refuse('startCorrelation', 'a number between -1 and 1');
  }
  for (const name of ['perUmol', 'edgeEffect'] as const) {
    if (!Number.isFinite(model[name])) refuse(name, 'a number');
  }
}

/**
 * Shift of every pot by the true effects. An interaction of k factors moves the 2ᵏ combinations of
 * first and last levels by ± difference / 2ᵏ: the difference between differences is then the one
 * stated, and no factor's own means change where its levels are grown equally often.
 */
export function trueShift(site: Site, levels: LevelNumbers, effects: TrueEffects): Float64Array {
  const shift = new Float64Array(site.pots.length);
  for (const factor of site.trial.factors) {
    const own = levels.get(factor.id);
    const byLevel = factor.levels.map((level) => effects.levels[factor.id]?.[level.id] ?? 0);
    own?.forEach((level, i) => (shift[i] = real(shift, i) + num(byLevel, level)));
  }
  for (const { factorIds, difference } of effects.interactions) {
    const factors = site.trial.factors.filter((factor) => factorIds.includes(factor.id));
    const step = difference / 2 ** factors.length;
    for (let i = 0; i < shift.length; i++) {
      let sign = 1;
      for (const factor of factors) {
        const level = levels.get(factor.id)?.[i];
        sign *= level === 0 ? 1 : level === factor.levels.length - 1 ? -1 : 0;
      }
      add(shift, i, sign * step);
    }
  }
  return shift;
}

/** Weighed starting values where every pot has one, in standard deviations from their mean. */
function weighedStarts(site: Site): Float64Array | null {
  const { pots, startByPot } = site;
  if (!startByPot || !hasAllStarts(site) || pots.length < 2) return null;
  const values = pots.map((pot) => startByPot.get(pot.id) ?? 0);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const square = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1);
  return square > 0 ? Float64Array.from(values, (v) => (v - mean) / Math.sqrt(square)) : null;
}

/**
 * Harvests under the model, one a call; the same accidents with and without the treatments'
 * effects. A plant's own deviation is r z + √(1 − r²) e, with z its starting value (weighed where
 * every pot has been, else drawn), r the stated correlation and e its luck.
 */
export function harvester(
  site: Site,
  model: HarvestModel,
): (shift: Float64Array, random: Stream) => Harvest {
  const { pots, ppfd, unitOf } = site;
  const weighed = weighedStarts(site);
  const meanLight = ppfd ? ppfd.reduce((sum, value) => sum + value, 0) / ppfd.length : 0;
  const place = Float64Array.from(
    pots,
    (pot, i) =>
      (ppfd ? model.perUmol * (num(ppfd, i) - meanLight) : 0) + (pot.onEdge ? model.edgeEffect : 0),
  );
  const r = model.startCorrelation;
  const luck = Math.sqrt(1 - r * r);
  return (shift, random) => {
    const deviates = (count: number, sd: number): Float64Array =>
      Float64Array.from({ length: count }, () => sd * random.normal());
    const shelf = deviates(unitOf.shelf.count, model.shelfSd);
    const tray = deviates(unitOf.tray.count, model.traySd);
    const start = weighed ?? deviates(pots.length, 1);
    const untreated = new Float64Array(pots.length);
    const treated = new Float64Array(pots.length);
    const alive = new Uint8Array(pots.length);
    for (let i = 0; i < pots.length; i++) {
      const value =
        real(place, i) +
        real(shelf, whole(unitOf.shelf.classOf, i)) +
        real(tray, whole(unitOf.tray.classOf, i)) +
        model.plantSd * (r * real(start, i) + luck * random.normal());
      untreated[i] = value;
      treated[i] = value + real(shift, i);
      alive[i] = model.deadShare > 0 && random.fraction() < model.deadShare ? 0 : 1;
    }
    return { untreated, treated, alive, start };
  };
}
