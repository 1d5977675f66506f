import { reachableCap } from '../constraint/prepared';
import { onStrips, stripMisfits } from './fitStrips';
import { misfit } from './misfit';
import type { Misfit } from './misfit';
import {
  givenLevels,
  schemeCrossesStrips,
  schemeNests,
  schemeShuffles,
  schemeUsesBlocks,
  schemeUsesGrid,
} from '../site/site';
import { unitIdOf } from '../site/trialPot';
import type { Site } from '../site/site';
import { counted, schemeWords, treatmentsInWords } from '../words';
import { unitWords } from '../../../../shared-types/trial/trial';
import { figure, list } from '../../../words';
import { sizeMisfits } from './sizeMisfits';

/** Everything that keeps the trial's scheme from being drawn on this rack; [] when it fits. */
export function misfitsOf(site: Site): Misfit[] {
  const { trial, pots } = site;
  if (trial.factors.length === 0) return [];
  if (pots.length === 0) {
    return [
      {
        kind: 'too-few-pots',
        about: ['plan'],
        text: 'The rack holds no measured pot: there is nothing to give a treatment to.',
        remedy: 'Give at least one tray a pot grid with pots that are not guard pots.',
      },
    ];
  }
  const misfits = [...givenGaps(site), ...lightMisfits(site), ...tierMisfits(site)];
  if (misfits.length === 0) for (const tier of site.tiers) misfits.push(...sizeMisfits(site, tier));
  return misfits.length === 0 ? capMisfits(site) : misfits;
}

/** A cap on like neighbours that no arrangement keeps, as far as a search can tell. */
function capMisfits(site: Site): Misfit[] {
  const wanted = site.trial.constraint.likeNeighbours;
  const tier = site.tiers.find((one) => one.unit === 'pot');
  if (wanted === null || !tier) return [];
  const reached = reachableCap(site, tier, wanted);
  if (reached === wanted) return [];
  const most = `at most ${wanted} ${wanted === 1 ? 'pot' : 'pots'} of one treatment side by side`;
  return [
    misfit(
      `No arrangement with ${most} was found for ${treatmentsInWords(tier)} under this scheme; the least that was reached is ${reached}.`,
      `Allow ${reached} like neighbours, or use blocks or levels that bring more different treatments together.`,
      ['plan', ...tier.factors.map((factor) => `factor:${factor.id}`)],
    ),
  ];
}

/** Bands of a light that is the same everywhere. */
function lightMisfits(site: Site): Misfit[] {
  const { trial, ppfd } = site;
  const [first] = ppfd ?? [];
  if (trial.blocks.by !== 'light' || !schemeUsesBlocks(trial.scheme) || first === undefined) {
    return [];
  }
  if (ppfd?.some((light) => light !== first)) return [];
  return [
    misfit(
      `The blocks follow the light, but it is the same at every measured pot, ${figure(first)} µmol m⁻² s⁻¹.`,
      'Hang the lamps as they are in the room, or choose other blocks.',
    ),
  ];
}

function givenGaps(site: Site): Misfit[] {
  return site.trial.factors.flatMap((factor) => {
    if (factor.kind !== 'fixed' || onStrips(factor)) return [];
    const levelIds = new Set(factor.levels.map((level) => level.id));
    const gaps = new Set<string>();
    givenLevels(site, factor).forEach((level, i) => {
      const pot = site.pots[i];
      if (pot && (level === null || !levelIds.has(level))) gaps.add(unitIdOf(pot, factor.unit));
    });
    if (gaps.size === 0) return [];
    const about = [...gaps].slice(0, 20).map((id) => `${factor.unit}:${id}`);
    return [
      misfit(
        `${factor.name} is fixed by you, but ${counted(gaps.size, factor.unit)} ${gaps.size === 1 ? 'has' : 'have'} no level of it.`,
        `Say which level of ${factor.name} each ${factor.unit} has, or let the draw assign it.`,
        [`factor:${factor.id}`, ...about],
      ),
    ];
  });
}

function tierMisfits(site: Site): Misfit[] {
  const { trial, tiers } = site;
  const scheme = schemeWords[trial.scheme].name;
  if (schemeCrossesStrips(trial.scheme)) return stripMisfits(site);
  const strips = trial.factors.filter(onStrips);
  if (strips.length > 0) {
    return [
      misfit(
        `${list(strips.map((f) => f.name))} ${strips.length === 1 ? 'is' : 'are'} applied to strips, which ${scheme} cannot hold.`,
        'Choose a strip plot, or give shelves, trays or pots a treatment of their own.',
      ),
    ];
  }
  if (schemeNests(trial.scheme)) {
    const units = new Set(trial.factors.map((factor) => factor.unit));
    if (units.size > 1 || tiers.length === 0) return [];
    const only = unitWords[trial.factors[0]?.unit ?? 'pot'].many;
    return [
      misfit(
        `A split plot needs factors on two kinds of unit; here all of them are applied to ${only}.`,
        'Choose complete blocks, or put a factor on whole trays or shelves.',
      ),
    ];
  }
  if (tiers.length > 1) {
    const where = tiers.map(
      (tier) => `${list(tier.factors.map((f) => f.name))} on ${unitWords[tier.unit].many}`,
    );
    return [
      misfit(
        `The factors sit on different units (${where.join('; ')}), which ${scheme} cannot hold.`,
        'Choose a split plot: it draws whole trays or shelves first and the pots within them after.',
      ),
    ];
  }
  const tier = tiers[0];
  if (!tier || !schemeUsesBlocks(trial.scheme)) return [];
  // One block over all pots bounds nothing: the free shuffle within it is a completely randomised draw.
  if (site.blocks.length === 1 && schemeShuffles(trial.scheme) && !schemeNests(trial.scheme))
    return [];
  if (!schemeUsesGrid(trial.scheme) && !tier.usesBlocks) {
    const many = unitWords[tier.unit].many;
    const why =
      site.blocks.length < 2
        ? `the plan has ${site.blocks.length === 1 ? 'only one block' : 'no blocks'}`
        : `the blocks are too small to hold several ${many}`;
    return [
      misfit(
        `${scheme[0]?.toUpperCase() ?? ''}${scheme.slice(1)} need several blocks with several ${many} each, and ${why}.`,
        `Choose larger blocks (${tier.unit === 'pot' ? 'shelves, trays or bands' : 'shelves'}), or a completely randomised layout.`,
      ),
    ];
  }
  return [];
}
