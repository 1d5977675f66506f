import type { Notice } from '../../../../shared-types/notice';
import type { Factor, UnitKind } from '../../../../shared-types/trial/trial';
import { crossed, isNested, partitionBy } from '../site/partition';
import { givenLevels } from '../site/site';
import type { Site } from '../site/site';
import type { FactorUnits } from '../strata/skeleton';
import { counted } from '../words';
import { unitWords } from '../../../../shared-types/trial/trial';
import { list } from '../../../words';
import { trialNotice } from '../trialNotice';

const COARSER: Partial<Record<UnitKind, readonly UnitKind[]>> = {
  pot: ['shelf', 'tray'],
  tray: ['shelf'],
};

/** What can be wrong with where the levels of given factors are, which no draw puts right. */
export function givenNotices(site: Site, units: readonly FactorUnits[]): Notice[] {
  return site.trial.factors.flatMap((factor) => {
    const own = units.find((one) => one.factorId === factor.id);
    if (factor.kind !== 'fixed' || factor.levels.length < 2 || !own) return [];
    if (givenLevels(site, factor).includes(null)) return [];
    const nowhere = own.unitsPerLevel.filter((level) => level.units === 0);
    if (nowhere.length > 0)
      return [
        levelNowhere(
          factor,
          nowhere.map((level) => level.name),
        ),
      ];
    const together = withUnits(site, factor);
    return together ? [together] : uneven(factor, own);
  });
}

function levelNowhere(factor: Factor, names: readonly string[]): Notice {
  const { one } = unitWords[factor.unit];
  return trialNotice(
    'too-few-pots',
    'stop',
    [`factor:${factor.id}`],
    `No ${one} has ${list(names)} of ${factor.name}: ${names.length === 1 ? 'it is' : 'they are'} not grown at all.`,
    `Say which ${one} has ${names.length === 1 ? 'it' : 'them'}, or take the level out of the trial.`,
  );
}

/** A given factor whose levels never differ within a shelf or tray: that is its unit in truth. */
function withUnits(site: Site, factor: Factor): Notice | null {
  const levels = partitionBy(givenLevels(site, factor).map((level) => level ?? ''));
  const own = site.unitOf[factor.unit];
  const unit = COARSER[factor.unit]?.find((coarser) => {
    const partition = site.unitOf[coarser];
    return partition.count < own.count && isNested(partition, levels);
  });
  if (!unit || levels.count < 2) return null;
  const { one, many } = unitWords[unit];
  const finer = unitWords[factor.unit].many;
  const count = site.unitOf[unit].count;
  const single = crossed(site.unitOf[unit], levels).count === levels.count;
  return trialNotice(
    'factors-confounded',
    single ? 'stop' : 'warn',
    [`factor:${factor.id}`],
    single
      ? `${factor.name} goes together with the ${many}: each of its ${levels.count} levels is found on one ${one} only, so that a difference between levels could be the ${many}.`
      : `${factor.name} is counted by ${finer}, but every ${one} holds one level of it only: what is replicated is the ${one}, and there are ${counted(count, unit)}, not ${counted(own.count, factor.unit)}.`,
    single
      ? `Mix the levels on every ${one}, give each level to at least two ${many}, or claim nothing about ${factor.name}.`
      : `Say that each ${one} has its own treatment of ${factor.name}, or mix its levels within each ${one}.`,
  );
}

/** Levels that twice as many units carry as others. */
function uneven(factor: Factor, own: FactorUnits): Notice[] {
  const counts = own.unitsPerLevel.map((level) => level.units);
  if (Math.max(...counts) < 2 * Math.min(...counts)) return [];
  const listed = own.unitsPerLevel.map((level) => `${level.name} ${level.units}`);
  const { many } = unitWords[factor.unit];
  return [
    trialNotice(
      'unequal-replication',
      'note',
      [`factor:${factor.id}`],
      `The levels of ${factor.name} are given to unequal numbers of ${many}: ${list(listed)}. What is compared with the scarce one is known least well.`,
      `Grow more ${many} of the scarce level, or accept it with the reason.`,
    ),
  ];
}
