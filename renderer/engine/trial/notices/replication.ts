import type { Notice } from '../../../../shared-types/notice';
import type { Site } from '../site/site';
import { schemeNests, schemeTakesAnySize } from '../site/site';
import { FEWEST_ERROR_DF } from '../grade';
import type { FactorUnits } from '../strata/skeleton';
import { counted, treatmentsInWords } from '../words';
import { unitWords } from '../../../../shared-types/trial/trial';
import { list } from '../../../words';
import { trialNotice } from '../trialNotice';

/** Factors whose levels can't be told from their units, and factors with too few error degrees of freedom. */
export function replicationNotices(site: Site, factors: readonly FactorUnits[]): Notice[] {
  return factors.flatMap((factor) => {
    const levels = site.trial.factors.find((f) => f.id === factor.factorId)?.levels.length ?? 0;
    if (levels < 2) return [];
    if (!factor.replicated) return [notReplicated(factor, levels)];
    // A given level that no unit carries has a notice of its own.
    if (factor.unitsPerLevel.some((level) => level.units === 0)) return [];
    return factor.errorDf < FEWEST_ERROR_DF ? [thinError(factor)] : [];
  });
}

function notReplicated(factor: FactorUnits, levels: number): Notice {
  const { one, many } = unitWords[factor.unit];
  const both = factor.unitCount === 2 ? `these two ${many}` : `these ${many}`;
  const share =
    factor.unitCount < levels
      ? `${levels} levels are to be shared among ${counted(factor.unitCount, factor.unit)}`
      : `each of its ${levels} levels sits on one ${one} only`;
  return trialNotice(
    'factor-not-replicated',
    'stop',
    [`factor:${factor.factorId}`],
    `${factor.name} is not replicated: ${share}. A difference between ${both} could be the ${many}, and no number of plants on them can tell.`,
    remedyFor(factor),
  );
}

function remedyFor(factor: FactorUnits): string {
  if (factor.unit === 'pot') return 'Use fewer levels or more pots.';
  const { one, many } = unitWords[factor.unit];
  const finer = factor.unit === 'shelf' ? 'trays or pots' : 'pots';
  return `Split each ${one} by applying ${factor.name} to ${finer}; or add ${many} so that each level has at least two; or swap the levels between the ${many} and repeat the trial; or grow it anyway, and claim nothing about ${factor.name}.`;
}

function thinError(factor: FactorUnits): Notice {
  const { many } = unitWords[factor.unit];
  const none = factor.errorDf <= 0;
  const df =
    factor.errorDf === 1
      ? '1 degree of freedom'
      : `${Math.max(0, factor.errorDf)} degrees of freedom`;
  const least = Math.min(...factor.unitsPerLevel.map((level) => level.units));
  return trialNotice(
    'unit-too-few-df',
    none ? 'stop' : 'warn',
    [`factor:${factor.factorId}`],
    `Only ${counted(factor.unitCount, factor.unit)} carry ${factor.name}, at least ${least} a level. ${none ? 'Nothing is left to judge it by, however many plants stand on them.' : 'However many plants stand on them, only a very large difference can show.'} It is compared with the variation ${factor.errorTerm}, with ${df} where ${FEWEST_ERROR_DF} are the least.`,
    `Add ${many}, use fewer levels or factors on ${many}, or apply ${factor.name} to a smaller unit.`,
  );
}

/** Draw groups whose units are no multiple of the treatments, and treatments with a single pot. */
export function shareNotices(site: Site): Notice[] {
  const notices: Notice[] = [];
  const { scheme } = site.trial;
  for (const tier of site.tiers) {
    const full = tier.fullSet.length;
    const about = tier.factors.map((factor) => `factor:${factor.id}`);
    const name = list(tier.factors.map((factor) => factor.name));
    const odd = tier.groups.filter((group) => group.units.length % full !== 0);
    const sizes = [...new Set(odd.map((group) => group.units.length))].sort((a, b) => a - b);
    if (odd.length > 0 && !schemeTakesAnySize(scheme)) {
      notices.push(
        trialNotice(
          'unequal-replication',
          'note',
          about,
          `${name}: ${odd.length} of ${tier.groups.length} groups share ${list(sizes.map(String))} ${unitWords[tier.unit].many} among ${treatmentsInWords(tier)}, so some get one more than others. Chance decides which; what is scarcer is known less well.`,
          `For equal numbers make some ${unitWords[tier.unit].many} guards or leave them out, so that each group holds a multiple of ${full}.`,
        ),
      );
    }
    if (tier.units.count < 2 * full && tier.units.count >= full && tier.unit === 'pot') {
      notices.push(
        trialNotice(
          'too-few-pots',
          'warn',
          about,
          `${counted(tier.units.count, 'pot')} for ${treatmentsInWords(tier)} of ${name}: some treatments are grown in one pot only.`,
          'Add pots or use fewer levels; two pots a treatment are the least, four or more do better.',
        ),
      );
    }
    if (blocksDropped(site, tier)) {
      notices.push(
        trialNotice(
          'block-too-small',
          'warn',
          about,
          `The blocks cut across the units that carry other factors and leave groups too small for ${treatmentsInWords(tier)} of ${name}; the draw of ${name} does not use them.`,
          'Choose blocks that hold whole trays or shelves, or larger bands.',
        ),
      );
    }
  }
  return notices;
}

function blocksDropped(site: Site, tier: Site['tiers'][number]): boolean {
  const wanted = schemeNests(site.trial.scheme) && site.blocks.length > 1;
  return wanted && tier.unit === 'pot' && !tier.usesBlocks;
}
