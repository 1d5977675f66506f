import type { Factor, UnitKind } from '../../../shared-types/trial';
import type { TrialInput } from './blocks';
import { connectedParts, crossed, isNested, partitionBy } from './partition';
import type { Partition } from './partition';
import { givenLevels, schemeUsesBlocks, schemeUsesGrid, siteOf, UNIT_ORDER } from './site';
import type { Site } from './site';

/** One line of the analysis of variance as it is fixed before planting. */
export interface SkeletonRow {
  source: string;
  df: number;
  /** Name of the stratum: `shelves`, `trays`, `pots`, or `blocks`. */
  stratum: string;
  isError: boolean;
  /** Factors of this source; [] for blocks, rows, columns and error. */
  factorIds: string[];
}

/** What carries one factor, and how well it can be judged. */
export interface FactorUnits {
  factorId: string;
  name: string;
  /** The experimental unit. */
  unit: UnitKind;
  unitCount: number;
  /** Units that carry each level; for a drawn factor what an even draw gives at least. */
  unitsPerLevel: { levelId: string; name: string; units: number }[];
  stratum: string;
  /** The line of the skeleton that is this factor's yardstick. */
  errorTerm: string;
  errorDf: number;
  /** False where every level sits on one unit only: the level can't be told from the unit. */
  replicated: boolean;
}

export interface UnitsReport {
  factors: FactorUnits[];
  skeleton: SkeletonRow[];
}

const stratumName: Record<UnitKind, string> = { shelf: 'shelves', tray: 'trays', pot: 'pots' };

/** A step of the chain from the whole rack down to single pots. */
interface Stratum {
  name: string;
  partition: Partition;
  /** Factors that sit on exactly these units. */
  factors: Factor[];
}

/** A source that cuts across coarser units and takes its degrees of freedom within a stratum. */
interface Crossing {
  source: string;
  df: number;
  stratum: string;
}

/** Units, strata and error terms of a trial, before anything is drawn or planted. */
export function unitsOf(input: TrialInput): UnitsReport {
  return unitsOfSite(siteOf(input));
}

export function unitsOfSite(site: Site): UnitsReport {
  const { trial } = site;
  if (site.pots.length === 0) return { factors: [], skeleton: [] };
  const { strata, crossing } = strataOf(site);
  const skeleton: SkeletonRow[] = [];
  let above = 1;
  strata.forEach((stratum, s) => {
    let left = stratum.partition.count - above;
    above = stratum.partition.count;
    const put = (source: string, df: number, factors: Factor[], isError = false): void => {
      const factorIds = factors.map((factor) => factor.id);
      if (df > 0 || factorIds.length > 0 || isError) {
        skeleton.push({ source, df, stratum: stratum.name, isError, factorIds });
      }
      left -= df;
    };
    for (const extra of crossing) {
      if (extra.stratum === stratum.name) put(extra.source, extra.df, []);
    }
    const coarser = strata.slice(0, s).flatMap((other) => other.factors);
    for (const source of sourcesOf(stratum.factors, coarser)) {
      put(source.map((f) => f.name).join(' × '), sourceDf(source), source);
    }
    if (stratum.name === 'blocks') put('blocks', left, []);
    else put(`between ${stratum.name}`, Math.max(0, left), [], true);
  });
  return { factors: trial.factors.map((factor) => factorUnits(site, factor, skeleton)), skeleton };
}

/**
 * The chain of strata. Blocks that units nest in come before those units; blocks that cut across
 * them (rows over trays, bands of light) take their degrees of freedom from the pots.
 */
function strataOf(site: Site): { strata: Stratum[]; crossing: Crossing[] } {
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
      crossing.push({ source: 'blocks', df, stratum: stratumName.pot });
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
    return [
      { source: 'shelves', df: unitOf.shelf.count - 1, stratum },
      { source: 'places on the shelf', df: placesOnShelf(site).count - 1, stratum },
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
  return [
    { source: rectangle, df: square.count - (strata.at(-2)?.partition.count ?? 1), stratum },
    { source: `rows within ${rectangle}`, df: rows.count - square.count, stratum },
    { source: `columns within ${rectangle}`, df: both - rows.count, stratum },
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

const sourceDf = (factors: readonly Factor[]): number =>
  factors.reduce((df, factor) => df * (factor.levels.length - 1), 1);

function factorUnits(site: Site, factor: Factor, skeleton: readonly SkeletonRow[]): FactorUnits {
  const units = site.unitOf[factor.unit];
  const own = skeleton.find((row) => row.factorIds.length === 1 && row.factorIds[0] === factor.id);
  const stratum = own?.stratum ?? stratumName[factor.unit];
  const error = skeleton.find((row) => row.stratum === stratum && row.isError);
  const counts = levelCounts(site, factor, units);
  const unitsPerLevel = factor.levels.map((level, i) => ({
    levelId: level.id,
    name: level.name,
    units: counts[i] ?? 0,
  }));
  const errorDf = error?.df ?? 0;
  const fullest =
    factor.kind === 'assigned' ? units.count / factor.levels.length : Math.max(...counts);
  const single = factor.levels.length > 1 && fullest <= 1;
  return {
    factorId: factor.id,
    name: factor.name,
    unit: factor.unit,
    unitCount: units.count,
    unitsPerLevel,
    stratum,
    errorTerm: error?.source ?? `between ${stratum}`,
    errorDf,
    replicated: !single,
  };
}

function levelCounts(site: Site, factor: Factor, units: Partition): number[] {
  if (factor.kind === 'assigned') {
    const even = Math.floor(units.count / factor.levels.length);
    return factor.levels.map(() => even);
  }
  const levels = partitionBy(givenLevels(site, factor).map((level) => level ?? ''));
  const pairs = crossed(units, levels);
  const seen = new Set<number>();
  const counts = new Map<string, number>();
  givenLevels(site, factor).forEach((level, i) => {
    const pair = pairs.classOf[i] ?? 0;
    if (seen.has(pair) || level === null) return;
    seen.add(pair);
    counts.set(level, (counts.get(level) ?? 0) + 1);
  });
  return factor.levels.map((level) => counts.get(level.id) ?? 0);
}
