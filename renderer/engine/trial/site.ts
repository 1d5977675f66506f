import { schemeTraits } from '../../../shared-types/trial';
import type { Factor, Scheme, SchemeTraits, Trial, UnitKind } from '../../../shared-types/trial';
import { baysOf, trayCode } from '../geometry';
import { asApplied } from './applied';
import { blocksOf, lightAt, lightForDraw } from './blocks';
import type { Block, TrialInput } from './blocks';
import { boundTrial } from './bound';
import { crossed, isNested, membersOf, partitionBy } from './partition';
import type { Partition } from './partition';
import { stripsOver } from './strips';
import { combinationsOf, overload, fullSetOf } from './treatments';
import type { Treatment } from './treatments';
import { trialPotsOf, unitIdOf } from './trialPot';
import type { TrialPot } from './trialPot';
import { Refusal } from '../../words';
import { whole } from '../entry';

const PLACES = ['shelf', 'zone', 'bay', 'tray'] as const satisfies readonly UnitKind[];

/** Units from the coarsest to the finest: a reservoir may serve several shelves, or one tray. */
export function unitOrder(unitOf: Record<UnitKind, Partition>): UnitKind[] {
  const places = [...PLACES].sort((a, b) => unitOf[a].count - unitOf[b].count);
  return [...places, 'row-strip', 'column-strip', 'pot'];
}

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
  pots: TrialPot[];
  blocks: Block[];
  blockOf: Partition;
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

/** Resolves pots, blocks, units and the groups within which each tier of factors is drawn. */
export function siteOf(input: TrialInput): Site {
  const { rack } = input;
  const tooMany = overload(input.trial.factors);
  if (tooMany) throw new Refusal(`trial: ${tooMany.text} ${tooMany.remedy}`);
  const pots = trialPotsOf(rack, input.zones);
  const { trial } = asApplied(
    input.bound ? boundTrial(input.trial, input.bound, pots) : input.trial,
    pots,
  );
  const blocks = blocksOf(input);
  const blockKeyOf = new Map(blocks.flatMap((b) => b.potIds.map((id) => [id, b.key] as const)));
  const blockOf = partitionBy(pots.map((pot) => blockKeyOf.get(pot.id) ?? ''));
  const rows = stripsOver(pots, blocks, trial, 'row-strip');
  const columns = stripsOver(pots, blocks, trial, 'column-strip');
  const unitOf: Record<UnitKind, Partition> = {
    shelf: partitionBy(pots.map((pot) => pot.shelfId)),
    zone: partitionBy(pots.map((pot) => pot.zoneId)),
    bay: partitionBy(pots.map((pot) => pot.bayId)),
    tray: partitionBy(pots.map((pot) => pot.trayId)),
    'row-strip': rows.partition,
    'column-strip': columns.partition,
    pot: partitionBy(pots.map((pot) => pot.id)),
  };
  const names = new Map<string, string>();
  for (const shelf of rack.shelves) {
    names.set(shelf.id, `Shelf ${shelf.number}`);
    for (const bay of baysOf(shelf)) names.set(bay.id, `Shelf ${bay.name}`);
    for (const tray of shelf.trays) {
      names.set(tray.id, `Tray ${trayCode(shelf.number, tray.letter)}`);
    }
  }
  for (const zone of input.zones) names.set(zone.id, zone.name);
  const ppfdByPot = lightForDraw({ ...input, trial }, pots);
  const lights = pots.map((pot) => lightAt(ppfdByPot, pot));
  const ppfd = lights.filter((light) => light !== null);
  const site: Site = {
    trial,
    pots,
    blocks,
    blockOf,
    unitOf,
    unitNames: {
      shelf: firstPotsOf(pots, unitOf.shelf).map((pot) => names.get(pot.shelfId) ?? ''),
      zone: firstPotsOf(pots, unitOf.zone).map((pot) => names.get(pot.zoneId) ?? ''),
      bay: firstPotsOf(pots, unitOf.bay).map((pot) => names.get(pot.bayId) ?? ''),
      tray: firstPotsOf(pots, unitOf.tray).map((pot) => names.get(pot.trayId) ?? ''),
      'row-strip': rows.names,
      'column-strip': columns.names,
      pot: pots.map((pot) => pot.code),
    },
    tiers: [],
    ppfd: ppfd.length === pots.length ? ppfd : null,
    startByPot: input.startByPot ?? null,
  };
  site.tiers = tiersOf(site);
  return site;
}

function firstPotsOf(pots: readonly TrialPot[], units: Partition): TrialPot[] {
  const first: TrialPot[] = [];
  pots.forEach((pot, i) => {
    const unit = whole(units.classOf, i);
    first[unit] ??= pot;
  });
  return first;
}

/** Whether a starting value is known for every measured pot, so that the draw can balance it. */
export function hasAllStarts(site: Pick<Site, 'pots' | 'startByPot'>): boolean {
  const { pots, startByPot } = site;
  return startByPot !== null && pots.every((pot) => startByPot.has(pot.id));
}

/** Pots of one strip of rows and one strip of columns: what both treatments of a strip plot cover. */
const cellsOf = ({ unitOf }: Site): Partition =>
  crossed(unitOf['row-strip'], unitOf['column-strip']);

/** Level id that a given factor has at every measured pot; null where nobody said. */
export function givenLevels(site: Pick<Site, 'pots'>, factor: Factor): (string | null)[] {
  const byUnit = new Map(factor.where.map((entry) => [entry.unitId, entry.levelId]));
  return site.pots.map((pot) => byUnit.get(unitIdOf(pot, factor.unit)) ?? null);
}

function tiersOf(site: Site): Tier[] {
  const { trial } = site;
  const assigned = trial.factors.filter((factor) => factor.kind === 'randomised');
  const tiers: Tier[] = [];
  let above: UnitKind | null = null;
  for (const unit of unitOrder(site.unitOf)) {
    const factors = assigned.filter((factor) => factor.unit === unit);
    if (factors.length > 0) {
      const combinations = combinationsOf(factors);
      const fullSet = fullSetOf(combinations);
      const { groups, usesBlocks } = groupsOf(site, unit, above, fullSet.length);
      const units = site.unitOf[unit];
      const firstPot = firstPotsOf(site.pots, units);
      tiers.push({ unit, factors, combinations, fullSet, units, firstPot, groups, usesBlocks });
    }
    const carriesFactors = trial.factors.some((factor) => factor.unit === unit);
    if (carriesFactors && schemeNests(trial.scheme)) above = unit;
  }
  return tiers;
}

/**
 * The groups of one tier: units of the same coarser unit that carries drawn factors, in the same
 * block, and alike in the given factors. A bound that would leave a group with fewer units than a
 * full set of treatments is dropped where it is not the design's own: blocks that cut across coarser units, and
 * given factors.
 */
function groupsOf(
  site: Site,
  unit: UnitKind,
  above: UnitKind | null,
  fullSet: number,
): { groups: DrawGroup[]; usesBlocks: boolean } {
  const { trial, blockOf, unitOf } = site;
  const units = unitOf[unit];
  const whole = partitionBy(site.pots.map(() => 'all'));
  let bound = above ? unitOf[above] : whole;
  const roomy = (partition: Partition): boolean =>
    unitsIn(partition, units).every((members) => members.length >= fullSet);

  if (schemeUsesGrid(trial.scheme) && unit === 'pot') bound = crossed(bound, unitOf.tray);
  if (schemeCrossesStrips(trial.scheme) && unit === 'pot') bound = crossed(bound, cellsOf(site));
  let usesBlocks = false;
  // A block that is a single unit can't bound the draw of that unit.
  const blocksFit =
    schemeUsesBlocks(trial.scheme) && isNested(units, blockOf) && blockOf.count < units.count;
  if (blocksFit) {
    const within = crossed(bound, blockOf);
    const nests = isNested(blockOf, bound) || isNested(bound, blockOf);
    if (nests || roomy(within)) {
      bound = within;
      usesBlocks = blockOf.count > 1;
    }
  }
  if (!schemeUsesGrid(trial.scheme) && !schemeIsIncomplete(trial.scheme)) {
    for (const factor of trial.factors.filter((f) => f.kind === 'fixed')) {
      const levels = partitionBy(givenLevels(site, factor).map((level) => level ?? ''));
      const within = crossed(bound, levels);
      if (isNested(units, levels) && roomy(within)) bound = within;
    }
  }
  const keyOf = groupKeys(site, unit, above, usesBlocks);
  const groups = unitsIn(bound, units).map((members) => ({ key: keyOf(members), units: members }));
  return { groups, usesBlocks };
}

/** The unit numbers within every class of a partition that the units nest in. */
function unitsIn(partition: Partition, units: Partition): number[][] {
  return membersOf(partition).map((members) => [
    ...new Set(members.map((pot) => whole(units.classOf, pot))),
  ]);
}

/** Stream labels made of permanent ids: what lies elsewhere on the rack does not enter them. */
function groupKeys(
  site: Site,
  unit: UnitKind,
  above: UnitKind | null,
  usesBlocks: boolean,
): (members: readonly number[]) => string {
  const { trial, pots, blocks } = site;
  const blockKey = new Map(blocks.flatMap((b) => b.potIds.map((id) => [id, b.key] as const)));
  const potNumbers = new Map(pots.map((pot, i) => [pot.id, i] as const));
  const first = firstPotsOf(pots, site.unitOf[unit]);
  const given = trial.factors
    .filter((factor) => factor.kind === 'fixed')
    .map((factor) => ({ id: factor.id, levels: givenLevels(site, factor) }));
  const holder = schemeUsesGrid(trial.scheme) && unit === 'pot' ? 'tray' : above;
  return (members) => {
    const pot = first[members[0] ?? -1];
    if (!pot) throw new Refusal(`a draw group of ${unit}s is empty; at least one unit is expected`);
    const parts: string[] = [unit];
    if (holder) parts.push(`${holder}:${unitIdOf(pot, holder)}`);
    if (schemeCrossesStrips(trial.scheme) && unit === 'pot') parts.push(`cell:${pot.id}`);
    if (usesBlocks) parts.push(`block:${blockKey.get(pot.id) ?? ''}`);
    for (const factor of given) {
      parts.push(`${factor.id}:${factor.levels[potNumbers.get(pot.id) ?? -1] ?? ''}`);
    }
    return parts.join('|');
  };
}
