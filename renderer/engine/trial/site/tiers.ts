import type { UnitKind } from '../../../../shared-types/trial/trial';
import { allInOne, crossed, isNested, membersOf, partitionBy } from './partition';
import type { Partition } from './partition';
import { combinationsOf, fullSetOf } from '../treatments';
import { unitIdOf } from './trialPot';
import { Refusal } from '../../../words';
import { whole } from '../../entry';
import {
  type DrawGroup,
  type Tier,
  type Site,
  schemeUsesBlocks,
  schemeUsesGrid,
  schemeNests,
  schemeCrossesStrips,
  schemeIsIncomplete,
  givenLevels,
} from './site';
import { unitOrder, firstPotsOf, cellUnits } from './siteUnits';

export function tiersOf(site: Site): Tier[] {
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
  let bound = above ? unitOf[above] : allInOne(site.pots.length);
  const roomy = (partition: Partition): boolean =>
    unitsIn(partition, units).every((members) => members.length >= fullSet);

  if (schemeUsesGrid(trial.scheme) && unit === 'pot') bound = crossed(bound, unitOf.tray);
  if (schemeCrossesStrips(trial.scheme) && unit === 'pot') bound = crossed(bound, cellUnits(site));
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
  const { trial, pots, blockKeys, blockOf } = site;
  // Numbers of the first pots of each unit.
  const first: number[] = [];
  site.unitOf[unit].classOf.forEach((number, i) => {
    first[number] ??= i;
  });
  const given = trial.factors
    .filter((factor) => factor.kind === 'fixed')
    .map((factor) => ({ id: factor.id, levels: givenLevels(site, factor) }));
  const holder = schemeUsesGrid(trial.scheme) && unit === 'pot' ? 'tray' : above;
  return (members) => {
    const at = first[members[0] ?? -1] ?? -1;
    const pot = pots[at];
    if (!pot) throw new Refusal(`a draw group of ${unit}s is empty; at least one unit is expected`);
    const parts: string[] = [unit];
    if (holder) parts.push(`${holder}:${unitIdOf(pot, holder)}`);
    if (schemeCrossesStrips(trial.scheme) && unit === 'pot') parts.push(`cell:${pot.id}`);
    if (usesBlocks) parts.push(`block:${blockKeys[whole(blockOf.classOf, at)] ?? ''}`);
    for (const factor of given) {
      parts.push(`${factor.id}:${factor.levels[at] ?? ''}`);
    }
    return parts.join('|');
  };
}
