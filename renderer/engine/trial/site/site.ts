import { schemeTraits } from '../../../../shared-types/trial/scheme';
import type { Factor, Trial, UnitKind } from '../../../../shared-types/trial/trial';
import type { Scheme, SchemeTraits } from '../../../../shared-types/trial/scheme';
import type { Block } from '../input';
import type { Partition } from './partition';
import type { Treatment } from '../treatments';
import { unitIdOf } from './trialPot';
import type { TrialPot } from './trialPot';

/** Units among which one lot of treatments is shuffled, with the label of its random stream. */
export interface DrawGroup {
  key: string;
  /** Unit numbers of the tier, in the order of their pots. */
  units: number[];
}

/** All assigned factors that sit on one kind of unit: they are drawn together. */
export interface Tier {
  unit: UnitKind;
  factors: Factor[];
  combinations: Treatment[];
  /** One full set of the combinations: the number of each as often as it is drawn a set. */
  fullSet: Int32Array;
  /** Which unit every measured pot belongs to. */
  units: Partition;
  /** The first pot of every unit, by unit number. */
  firstPot: TrialPot[];
  groups: DrawGroup[];
  /** Whether the trial's blocks bound the groups. */
  usesBlocks: boolean;
}

/** The measured pots of a rack as a trial sees them. Pot numbers below are indices of `pots`. */
export interface Site {
  trial: Trial;
  pots: readonly TrialPot[];
  blocks: Block[];
  blockOf: Partition;
  /** Key of every block, by its number in `blockOf`. */
  blockKeys: string[];
  unitOf: Record<UnitKind, Partition>;
  /** Printed name of every unit, by unit number. */
  unitNames: Record<UnitKind, string[]>;
  tiers: Tier[];
  /** PPFD of every measured pot, rounded; null where any pot lacks it. */
  ppfd: number[] | null;
  startByPot: ReadonlyMap<string, number> | null;
}

const holds = (trait: Exclude<keyof SchemeTraits, 'draw'>) => (scheme: Scheme) =>
  schemeTraits[scheme][trait] ?? false;

export const schemeUsesBlocks = holds('blocks');

export const schemeUsesGrid = holds('grid');

export const schemeShuffles = holds('shuffled');

export const schemeNests = holds('nested');

export const schemeCrossesStrips = holds('strips');

export const schemeIsIncomplete = holds('incomplete');

export const schemeTakesAnySize = holds('anySize');

/** Whether a starting value is known for every measured pot, so that the draw can balance it. */
export function hasAllStarts(site: Pick<Site, 'pots' | 'startByPot'>): boolean {
  const { pots, startByPot } = site;
  return startByPot !== null && pots.every((pot) => startByPot.has(pot.id));
}

/** Level id that a given factor has at every measured pot; null where nobody said. */
export function givenLevels(site: Pick<Site, 'pots'>, factor: Factor): (string | null)[] {
  const byUnit = new Map(factor.where.map((entry) => [entry.unitId, entry.levelId]));
  return site.pots.map((pot) => byUnit.get(unitIdOf(pot, factor.unit)) ?? null);
}
