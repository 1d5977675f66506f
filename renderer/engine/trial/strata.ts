import type { Factor, UnitKind } from '../../../shared-types/trial';
import { connectedParts, crossed, isNested, partitionBy } from './partition';
import type { Partition } from './partition';
import { schemeCrossesStrips, schemeUsesBlocks, schemeUsesGrid, unitOrder } from './site';
import type { Site } from './site';
import { whole } from '../entry';

export const stratumName: Record<UnitKind, string> = {
  shelf: 'shelves',
  zone: 'reservoirs',
  bay: 'bays',
  tray: 'trays',
  'row-strip': 'strips of rows',
  'column-strip': 'strips of columns',
  pot: 'pots',
};

/** Units among which some effects are judged, on the way from the whole rack down to single pots. */
export interface Stratum {
  name: string;
  partition: Partition;
  /** The coarser units whose differences belong to other strata. */
  within: Partition;
  /** Units that cut across those and have a stratum of their own; null except in a strip plot. */
  across: Partition | null;
  /** Main effects and interactions judged here. */
  sources: Factor[][];
}

/** Degrees of freedom of a stratum: its units, less what other strata tell of them. */
export function stratumDf({ partition, within, across }: Stratum): number {
  const own = partition.count - within.count;
  return across ? own - across.count + connectedParts(within, across) : own;
}

interface Link {
  name: string;
  partition: Partition;
  /** Factors that sit on exactly these units. */
  factors: Factor[];
}

/** A source that cuts across coarser units and takes its degrees of freedom within a stratum. */
export interface Crossing {
  source: string;
  df: number;
  stratum: string;
  partition: Partition;
}

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
      const coarser = strata.at(-2)?.partition ?? partitionBy(site.pots.map(() => 'all'));
      const df = blockOf.count - connectedParts(coarser, blockOf);
      crossing.push({ source: 'blocks', df, stratum: stratumName.pot, partition: blockOf });
    }
  }
  crossing.push(...gridSources(site, strata));
  return { strata: chained(strata, wholeOf(site)), crossing };
}

const wholeOf = (site: Site): Partition => partitionBy(site.pots.map(() => 'all'));

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

/** Whether whole trays are laid out by shelf and place on the shelf. */
const traysOnGrid = (site: Site): boolean =>
  schemeUsesGrid(site.trial.scheme) && site.tiers[0]?.unit === 'tray';

/** The rectangles on which a scheme of rows and columns lays its units, with their lines. */
export interface GridLines {
  unit: 'tray' | 'pot';
  rectangles: Partition;
  rows: Partition;
  columns: Partition;
}

/**
 * Rows and columns over which the scheme balances the treatments: shelves and places on the shelf
 * for whole trays; for pots the rows and columns of every tray, or of every block's part of it. null
 * for schemes without.
 */
export function gridLinesOf(site: Site): GridLines | null {
  const { pots, unitOf } = site;
  if (!schemeUsesGrid(site.trial.scheme)) return null;
  if (traysOnGrid(site)) {
    return {
      unit: 'tray',
      rectangles: wholeOf(site),
      rows: unitOf.shelf,
      columns: placesOnShelf(site),
    };
  }
  const usesBlocks = site.tiers[0]?.usesBlocks === true;
  const rectangles = usesBlocks ? crossed(unitOf.tray, site.blockOf) : unitOf.tray;
  const lines = (of: 'row' | 'column'): Partition =>
    partitionBy(pots.map((pot, i) => `${whole(rectangles.classOf, i)}:${pot[of]}`));
  return { unit: 'pot', rectangles, rows: lines('row'), columns: lines('column') };
}

/** The lines as sources of the analysis, as far as coarser strata leave them free. */
function gridSources(site: Site, strata: readonly Link[]): Crossing[] {
  const grid = gridLinesOf(site);
  if (!grid) return [];
  const { unit, rectangles, rows, columns } = grid;
  const stratum = stratumName[unit];
  if (unit === 'tray') {
    return [
      { source: 'shelves', df: rows.count - 1, stratum, partition: rows },
      { source: 'places on the shelf', df: columns.count - 1, stratum, partition: columns },
    ];
  }
  const both = rows.count + columns.count - connectedParts(rows, columns);
  const split = rectangles.count > site.unitOf.tray.count;
  const name = split ? 'blocks' : 'trays';
  const above = strata.at(-2)?.partition.count ?? 1;
  return [
    { source: name, df: rectangles.count - above, stratum, partition: rectangles },
    {
      source: `rows within ${name}`,
      df: rows.count - rectangles.count,
      stratum,
      partition: rows,
    },
    {
      source: `columns within ${name}`,
      df: both - rows.count,
      stratum,
      partition: columns,
    },
  ];
}

function placesOnShelf(site: Site): Partition {
  const trays = new Map<string, Map<string, number>>();
  for (const pot of site.pots) {
    const shelf = trays.get(pot.shelfId) ?? new Map<string, number>();
    trays.set(pot.shelfId, shelf);
    shelf.set(pot.trayId, Math.min(shelf.get(pot.trayId) ?? Infinity, pot.xMm));
  }
  const rank = new Map<string, number>();
  for (const shelf of trays.values()) {
    [...shelf.entries()].sort((a, b) => a[1] - b[1]).forEach(([id], i) => rank.set(id, i));
  }
  return partitionBy(site.pots.map((pot) => String(rank.get(pot.trayId) ?? 0)));
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
