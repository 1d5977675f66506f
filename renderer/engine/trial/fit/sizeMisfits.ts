import { misfit } from './misfit';
import type { Misfit } from './misfit';
import { unitGridOf } from '../schemes/grid';
import { schemeIsIncomplete, schemeNests, schemeUsesGrid } from '../site/site';
import type { Site, Tier } from '../site/site';
import { firstPotsOf } from '../site/siteUnits';
import { counted, schemeWords, treatmentsInWords } from '../words';
import { smallestUnitOf, unitWords } from '../../../../shared-types/trial/trial';
import { schemeTraits } from '../../../../shared-types/trial/scheme';

export function sizeMisfits(site: Site, tier: Tier): Misfit[] {
  const { trial } = site;
  const full = tier.fullSet.length;
  const wanted = treatmentsInWords(tier);
  const many = unitWords[tier.unit].many;
  if (schemeUsesGrid(trial.scheme)) return gridMisfits(site, tier);
  const small = tier.groups.filter((group) => group.units.length < full);
  if (small.length === 0) {
    if (!schemeIsIncomplete(trial.scheme)) return [];
    return [
      misfit(
        `Every block holds at least ${full} ${many}, enough for all ${tier.combinations.length} treatments: incomplete blocks are not needed.`,
        'Choose complete blocks, or make the blocks smaller.',
      ),
    ];
  }
  const smallest = Math.min(...small.map((group) => group.units.length));
  if (schemeIsIncomplete(trial.scheme)) {
    if (smallest >= 2) return [];
    return [
      {
        kind: 'block-too-small',
        about: ['plan'],
        text: `The smallest block holds ${counted(smallest, tier.unit)}; a comparison within blocks needs at least 2.`,
        remedy: 'Make the blocks larger.',
      },
    ];
  }
  const first = small[0];
  const name = first ? groupName(site, tier, first.units) : '';
  if (tier.groups.length === 1) {
    return [
      {
        kind: 'too-few-pots',
        about: tier.factors.map((factor) => `factor:${factor.id}`),
        text: `${wanted} are to be shared among ${counted(smallest, tier.unit)}: ${smallest < tier.combinations.length ? 'some would not be grown at all' : 'some would be grown less often than wanted'}.`,
        remedy: reachesSmaller(tier)
          ? `Use fewer levels, add ${many}, or apply the factor to a smaller unit.`
          : `Use fewer levels, or add ${many}.`,
      },
    ];
  }
  return [
    {
      kind: 'block-too-small',
      about: tier.factors.map((factor) => `factor:${factor.id}`),
      text: `${name} holds ${counted(smallest, tier.unit)} for ${wanted}; ${small.length} of ${tier.groups.length} such groups are too small to hold ${full === tier.combinations.length ? 'each treatment once' : 'a full set'}.`,
      remedy: schemeNests(trial.scheme)
        ? reachesSmaller(tier)
          ? 'Choose larger blocks, fewer levels, or a factor on a smaller unit.'
          : 'Choose larger blocks, or fewer levels.'
        : 'Choose larger blocks, fewer levels, or incomplete blocks.',
    },
  ];
}

function groupName(site: Site, tier: Tier, units: readonly number[]): string {
  const pot = tier.firstPot[units[0] ?? 0];
  if (!pot) return 'A group';
  if (tier.usesBlocks) {
    return site.blocks.find((block) => block.potIds.includes(pot.id))?.name ?? 'A block';
  }
  return trayNamesOf(site).get(pot.trayId) ?? 'A tray';
}

const named = new WeakMap<Site, ReadonlyMap<string, string>>();

/** Printed names by tray id. */
function trayNamesOf(site: Site): ReadonlyMap<string, string> {
  const known = named.get(site);
  if (known) return known;
  const { pots, unitOf, unitNames } = site;
  const names = new Map(
    firstPotsOf(pots, unitOf.tray).map(({ trayId }, i) => [trayId, unitNames.tray[i] ?? '']),
  );
  named.set(site, names);
  return names;
}

function gridMisfits(site: Site, tier: Tier): Misfit[] {
  const full = tier.fullSet.length;
  const wanted = treatmentsInWords(tier);
  const squares = schemeTraits[site.trial.scheme].draw === 'squares';
  if (tier.unit === 'shelf') {
    return [
      misfit(
        `Shelves stand one above the other: they have no rows and columns for ${schemeWords[site.trial.scheme].name}.`,
        'Choose a completely randomised layout, or apply the factor to trays or pots.',
      ),
    ];
  }
  const out: Misfit[] = [];
  for (const group of tier.groups) {
    const grid = unitGridOf(tier, group);
    const name = tier.unit === 'pot' ? groupName(site, tier, group.units) : 'The rack';
    if (!grid) {
      out.push(
        misfit(
          `${name}: its ${unitWords[tier.unit].many} do not fill a rectangle of rows and columns.`,
          'Fill or leave out whole rows and columns, or choose complete blocks.',
        ),
      );
    } else if (squares && (grid.rows % full !== 0 || grid.columns % full !== 0)) {
      out.push(
        misfit(
          `${name} has ${grid.rows} × ${grid.columns} ${unitWords[tier.unit].many}; a Latin square of ${wanted} needs a multiple of ${full} both ways.`,
          `Use guard pots to trim the grid to ${full} × ${full}, change the number of treatments, or choose row-and-column or complete blocks.`,
        ),
      );
    } else if (!squares && grid.rows * grid.columns < full) {
      out.push({
        kind: 'block-too-small',
        about: ['plan'],
        text: `${name} has ${grid.rows * grid.columns} ${unitWords[tier.unit].many} for ${wanted}.`,
        remedy: 'Use fewer levels or larger trays.',
      });
    }
    if (out.length > 0) return out;
  }
  return out;
}

/** Whether what its factors are applied through can reach less than a unit of the tier. */
function reachesSmaller({ unit, factors }: Tier): boolean {
  return (
    unit !== 'pot' &&
    factors.every(
      ({ appliedThrough }) => !appliedThrough || smallestUnitOf[appliedThrough] === 'pot',
    )
  );
}
