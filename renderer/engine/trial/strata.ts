import type { Factor, UnitKind } from '../../../shared-types/trial';
import { connectedParts, crossed, isNested, partitionBy } from './partition';
import type { Partition } from './partition';
import { schemeUsesBlocks, schemeUsesGrid, UNIT_ORDER } from './site';
import type { Site } from './site';

export const stratumName: Record<UnitKind, string> = {
  shelf: 'shelves',
  tray: 'trays',
  pot: 'pots',
};

/** A step of the chain from the whole rack down to single pots. */
export interface Stratum {
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
  const strata: Stratum[] = [];
  const crossing: Crossing[] = [];
  const usesBlocks =
    schemeUsesBlocks(trial.scheme) &&
    blockOf.count > 1 &&
    blockOf.count < site.pots.length &&
    !traysOnGrid(site);
  const carriers = UNIT_ORDER.filter(
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
  crossing.push(...gridLines(site, strata));
  return { strata, crossing };
}

/** Whether whole trays are laid out by shelf and place on the shelf. */
const traysOnGrid = (site: Site): boolean =>
  schemeUsesGrid(site.trial.scheme) && site.tiers[0]?.unit === 'tray';

/** Rows and columns of the schemes that use them, as far as coarser strata leave them free. */
function gridLines(site: Site, strata: readonly Stratum[]): Crossing[] {
  const { pots, unitOf } = site;
  if (!schemeUsesGrid(site.trial.scheme)) return [];
  if (traysOnGrid(site)) {
    const stratum = stratumName.tray;
    const places = placesOnShelf(site);
    return [
      { source: 'shelves', df: unitOf.shelf.count - 1, stratum, partition: unitOf.shelf },
      { source: 'places on the shelf', df: places.count - 1, stratum, partition: places },
    ];
  }
  const usesBlocks = site.tiers[0]?.usesBlocks === true;
  const square = usesBlocks ? crossed(unitOf.tray, site.blockOf) : unitOf.tray;
  const lines = (of: 'row' | 'column'): Partition =>
    partitionBy(pots.map((pot, i) => `${square.classOf[i] ?? 0}:${pot[of]}`));
  const rows = lines('row');
  const columns = lines('column');
  const both = rows.count + columns.count - connectedParts(rows, columns);
  const stratum = stratumName.pot;
  const rectangle = usesBlocks && square.count > unitOf.tray.count ? 'blocks' : 'trays';
  const above = strata.at(-2)?.partition.count ?? 1;
  return [
    { source: rectangle, df: square.count - above, stratum, partition: square },
    {
      source: `rows within ${rectangle}`,
      df: rows.count - square.count,
      stratum,
      partition: rows,
    },
    {
      source: `columns within ${rectangle}`,
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
export function sourcesOf(own: readonly Factor[], coarser: readonly Factor[]): Factor[][] {
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
