import type { Factor, UnitKind } from '../../../../shared-types/trial/trial';
import { connectedParts, crossed, isNested } from '../site/partition';
import type { Partition } from '../site/partition';
import { schemeCrossesStrips, schemeUsesBlocks, schemeUsesGrid } from '../site/site';
import { unitOrder } from '../site/siteUnits';
import type { Site } from '../site/site';
import { traysOnGrid, gridSources } from './gridSources';
import { stratumName, type Stratum, type Link, type Crossing, wholeOf } from './stratum';

/**
 * The chain of strata. Blocks that units nest in come before those units; blocks that cut across
 * them (rows over trays, bands of light) take their degrees of freedom from the pots.
 */
export function strataOf(site: Site): { strata: Stratum[]; crossing: Crossing[] } {
  const { trial, blockOf, unitOf } = site;
  if (schemeCrossesStrips(trial.scheme)) return { strata: stripStrata(site), crossing: [] };
  const strata: Link[] = [];
  const crossing: Crossing[] = [];
  const usesBlocks =
    schemeUsesBlocks(trial.scheme) &&
    blockOf.count > 1 &&
    blockOf.count < site.pots.length &&
    !traysOnGrid(site) &&
    // Rows and columns of whole trays take the place of blocks that cut across trays.
    !(schemeUsesGrid(trial.scheme) && site.tiers[0]?.usesBlocks === false);
  const carriers = unitOrder(unitOf).filter(
    (unit) => unit === 'pot' || trial.factors.some((factor) => factor.unit === unit),
  );
  for (const unit of carriers) {
    const factors = trial.factors.filter((factor) => factor.unit === unit);
    const finestOther = strata.at(-1)?.partition;
    if (finestOther?.count === unitOf[unit].count && unit === 'pot' && factors.length === 0)
      continue;
    strata.push({ name: stratumName[unit], partition: unitOf[unit], factors });
  }
  if (usesBlocks) {
    const sameAs = strata.some(
      ({ partition }) => isNested(partition, blockOf) && isNested(blockOf, partition),
    );
    // The finest place in the chain where all coarser units hold whole blocks.
    const at = strata.findIndex(({ partition }) => isNested(partition, blockOf));
    const fits = strata.slice(0, at).every(({ partition }) => isNested(blockOf, partition));
    if (!sameAs && at >= 0 && fits) {
      strata.splice(at, 0, { name: 'blocks', partition: blockOf, factors: [] });
    } else if (!sameAs) {
      const coarser = strata.at(-2)?.partition ?? wholeOf(site);
      const df = blockOf.count - connectedParts(coarser, blockOf);
      crossing.push({ source: 'blocks', df, stratum: stratumName.pot, partition: blockOf });
    }
  }
  crossing.push(...gridSources(site, strata));
  return { strata: chained(strata, wholeOf(site)), crossing };
}

/**
 * Strata of which each nests in the one before, or cuts across it (bays over reservoirs): then both
 * are judged within what holds both, and their interaction between the cells where they meet.
 */
function chained(links: readonly Link[], whole: Partition): Stratum[] {
  const strata: Stratum[] = [];
  let finest: Link = { name: '', partition: whole, factors: [] };
  const above: Link[] = [finest];
  for (const link of links) {
    const holder = above.findLast(({ partition }) => isNested(link.partition, partition)) ?? finest;
    const { name, partition } = link;
    const sources = sourcesOf(link.factors, holder.factors);
    strata.push({ name, partition, within: holder.partition, across: null, sources });
    const factors = [...new Set([...finest.factors, ...link.factors])];
    if (holder !== finest) {
      const cells = crossed(finest.partition, partition);
      strata.push({
        name: 'cells',
        partition: cells,
        within: finest.partition,
        across: partition,
        sources: sourcesOf(factors, []).filter((source) =>
          [finest, link].every((one) =>
            source.some(
              (factor) => one.factors.includes(factor) && !holder.factors.includes(factor),
            ),
          ),
        ),
      });
      finest = { name: 'cells', partition: cells, factors };
    } else finest = { name, partition, factors };
    above.push(finest);
  }
  return strata;
}

/**
 * Strata of a strip plot: blocks; strips of rows and strips of columns, which cross; the cells where
 * they meet; pots, where a cell holds several (Cochran & Cox 1957, Experimental Designs, ch. 7). Factors
 * on coarser units than strips are given ones; their effects are judged between blocks.
 */
function stripStrata(site: Site): Stratum[] {
  const { trial, blockOf, unitOf } = site;
  const on = (unit: UnitKind): Factor[] => trial.factors.filter((factor) => factor.unit === unit);
  const rows = unitOf['row-strip'];
  const columns = unitOf['column-strip'];
  const cells = crossed(rows, columns);
  const inRows = on('row-strip');
  const inColumns = on('column-strip');
  const above = [...on('shelf'), ...on('tray')];
  const everything = [...above, ...inRows, ...inColumns];
  const strata: Stratum[] = [
    {
      name: above.length > 0 ? 'blocks of the strips' : 'blocks',
      partition: blockOf,
      within: wholeOf(site),
      across: null,
      sources: sourcesOf(above, []),
    },
    {
      name: stratumName['row-strip'],
      partition: rows,
      within: blockOf,
      across: null,
      sources: sourcesOf(inRows, above),
    },
    {
      name: stratumName['column-strip'],
      partition: columns,
      within: blockOf,
      across: null,
      sources: sourcesOf(inColumns, above),
    },
    {
      name: 'cells',
      partition: cells,
      within: rows,
      across: columns,
      sources: sourcesOf(everything, []).filter(
        (source) =>
          source.some((factor) => inRows.includes(factor)) &&
          source.some((factor) => inColumns.includes(factor)),
      ),
    },
  ];
  if (cells.count < site.pots.length) {
    strata.push({
      name: stratumName.pot,
      partition: unitOf.pot,
      within: cells,
      across: null,
      sources: sourcesOf(on('pot'), everything),
    });
  }
  return strata;
}

/** Main effects of the stratum's factors and every interaction whose finest factor is one of them. */
function sourcesOf(own: readonly Factor[], coarser: readonly Factor[]): Factor[][] {
  const all = [...coarser, ...own];
  const sources: Factor[][] = [];
  for (let mask = 1; mask < 1 << all.length; mask++) {
    const chosen = all.filter((_, i) => (mask >> i) & 1);
    if (chosen.some((factor) => own.includes(factor))) sources.push(chosen);
  }
  return sources.sort((a, b) => a.length - b.length);
}

export const sourceDf = (factors: readonly Factor[]): number =>
  factors.reduce((df, factor) => df * (factor.levels.length - 1), 1);
