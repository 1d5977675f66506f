import type { Site } from '../site';
import type { Stream } from '../stream';
import type { LevelNumbers } from './columns';

/** How plants are taken to grow: the primary measurement at harvest, in its own unit. */
export interface HarvestModel {
  /** An untreated plant in the mean light of the rack. */
  mean: number;
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
}

export interface Harvest {
  /** Without any treatment effect. */
  untreated: Float64Array;
  /** With the true effects added. */
  treated: Float64Array;
  alive: Uint8Array;
}

export function checkModel(model: HarvestModel): void {
  const spreads = { plantSd: model.plantSd, traySd: model.traySd, shelfSd: model.shelfSd };
  for (const [name, value] of Object.entries(spreads)) {
    if (!(value >= 0) || !Number.isFinite(value)) {
      throw new Error(`rehearsal: ${name} of ${value} was found; 0 or more is expected`);
    }
  }
  if (!(model.plantSd > 0)) {
    throw new Error(
      'rehearsal: a plantSd of 0 was found; plants always differ, so above 0 is expected',
    );
  }
  if (!(model.deadShare >= 0 && model.deadShare < 1)) {
    throw new Error(
      `rehearsal: a deadShare of ${model.deadShare} was found; 0 to less than 1 is expected`,
    );
  }
  for (const name of ['mean', 'perUmol', 'edgeEffect'] as const) {
    if (!Number.isFinite(model[name])) {
      throw new Error(`rehearsal: ${name} of ${model[name]} was found; a number is expected`);
    }
  }
}

/** Shift of every pot by the true effects of its levels; `effects[factorId][levelId]`, else 0. */
export function trueEffects(
  site: Site,
  levels: LevelNumbers,
  effects: Readonly<Record<string, Readonly<Record<string, number>>>>,
): Float64Array {
  const shift = new Float64Array(site.pots.length);
  for (const factor of site.trial.factors) {
    const own = levels.get(factor.id);
    const byLevel = factor.levels.map((level) => effects[factor.id]?.[level.id] ?? 0);
    own?.forEach((level, i) => (shift[i] = (shift[i] ?? 0) + (byLevel[level] ?? 0)));
  }
  return shift;
}

/** One harvest under the model; the same accidents with and without the treatments' effects. */
export function harvestOf(
  site: Site,
  model: HarvestModel,
  shift: Float64Array,
  random: Stream,
): Harvest {
  const { pots, ppfd, unitOf } = site;
  const deviates = (count: number, sd: number): Float64Array =>
    Float64Array.from({ length: count }, () => sd * random.normal());
  const shelf = deviates(unitOf.shelf.count, model.shelfSd);
  const tray = deviates(unitOf.tray.count, model.traySd);
  const meanLight = ppfd ? ppfd.reduce((sum, value) => sum + value, 0) / ppfd.length : 0;
  const untreated = new Float64Array(pots.length);
  const treated = new Float64Array(pots.length);
  const alive = new Uint8Array(pots.length);
  for (let i = 0; i < pots.length; i++) {
    const value =
      model.mean +
      (ppfd ? model.perUmol * ((ppfd[i] ?? 0) - meanLight) : 0) +
      (pots[i]?.onEdge ? model.edgeEffect : 0) +
      (shelf[unitOf.shelf.classOf[i] ?? 0] ?? 0) +
      (tray[unitOf.tray.classOf[i] ?? 0] ?? 0) +
      model.plantSd * random.normal();
    untreated[i] = value;
    treated[i] = value + (shift[i] ?? 0);
    alive[i] = model.deadShare > 0 && random.fraction() < model.deadShare ? 0 : 1;
  }
  return { untreated, treated, alive };
}
