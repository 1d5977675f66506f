import { connectedParts, crossed, partitionBy } from '../site/partition';
import type { Partition } from '../site/partition';
import { schemeUsesGrid } from '../site/site';
import type { Site } from '../site/site';
import { whole } from '../../entry';
import { stratumName, type Link, type Crossing, wholeOf } from './stratum';

/** Whether whole trays are laid out by shelf and place on the shelf. */
export const traysOnGrid = (site: Site): boolean =>
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
export function gridSources(site: Site, strata: readonly Link[]): Crossing[] {
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
