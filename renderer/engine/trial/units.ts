import type { Factor } from '../../../shared-types/trial/trial';
import { ONCE, type TrialInput } from './input';
import { inRuns } from './inRuns';
import type { FactorUnits, SkeletonRow, UnitsReport } from './strata/skeleton';
import { crossed, partitionBy } from './site/partition';
import type { Partition } from './site/partition';
import { givenLevels } from './site/site';
import { siteOf } from './site/siteOf';
import type { Site } from './site/site';
import { timesOf } from './treatments';
import { sourceDf, strataOf } from './strata/strata';
import { stratumDf, stratumName } from './strata/stratum';
import { num, whole } from '../entry';

/** Units, strata and error terms of a trial, all runs together, before anything is drawn or planted. */
export function unitsOf(input: TrialInput): UnitsReport {
  return inRuns(unitsOfSite(siteOf(input)), input.trial, input.grown ?? ONCE);
}

export function unitsOfSite(site: Site): UnitsReport {
  const { trial } = site;
  if (site.pots.length === 0) return { factors: [], skeleton: [] };
  const { strata, crossing } = strataOf(site);
  const skeleton: SkeletonRow[] = [];
  for (const stratum of strata) {
    let left = stratumDf(stratum);
    const put = (source: string, df: number, factors: Factor[], isError = false): void => {
      const factorIds = factors.map((factor) => factor.id);
      if (df > 0 || factorIds.length > 0 || isError) {
        const units = stratum.partition.count;
        skeleton.push({ source, df, stratum: stratum.name, units, isError, factorIds });
      }
      left -= df;
    };
    for (const extra of crossing) {
      if (extra.stratum === stratum.name) put(extra.source, extra.df, []);
    }
    for (const source of stratum.sources) {
      put(source.map((f) => f.name).join(' × '), sourceDf(source), source);
    }
    if (stratum.name === 'blocks') put('blocks', left, []);
    else put(`between ${stratum.name}`, Math.max(0, left), [], true);
  }
  return { factors: trial.factors.map((factor) => factorUnits(site, factor, skeleton)), skeleton };
}

function factorUnits(site: Site, factor: Factor, skeleton: readonly SkeletonRow[]): FactorUnits {
  const units = site.unitOf[factor.unit];
  const own = skeleton.find((row) => row.factorIds.length === 1 && row.factorIds[0] === factor.id);
  const stratum = own?.stratum ?? stratumName[factor.unit];
  const error = skeleton.find((row) => row.stratum === stratum && row.isError);
  const counts = levelCounts(site, factor, units);
  const unitsPerLevel = factor.levels.map((level, i) => ({
    levelId: level.id,
    name: level.name,
    units: num(counts, i),
  }));
  const errorDf = error?.df ?? 0;
  const fullest =
    factor.kind === 'randomised'
      ? (units.count * Math.max(...factor.levels.map((level) => timesOf(factor, level)))) /
        fullSetOf(factor)
      : Math.max(...counts);
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

/** Units that one full set of a factor's levels takes. */
const fullSetOf = (factor: Factor): number =>
  factor.levels.reduce((sum, level) => sum + timesOf(factor, level), 0);

function levelCounts(site: Site, factor: Factor, units: Partition): number[] {
  if (factor.kind === 'randomised') {
    const full = fullSetOf(factor);
    return factor.levels.map((level) => Math.floor((units.count * timesOf(factor, level)) / full));
  }
  const levels = partitionBy(givenLevels(site, factor).map((level) => level ?? ''));
  const pairs = crossed(units, levels);
  const seen = new Set<number>();
  const counts = new Map<string, number>();
  givenLevels(site, factor).forEach((level, i) => {
    const pair = whole(pairs.classOf, i);
    if (seen.has(pair) || level === null) return;
    seen.add(pair);
    counts.set(level, (counts.get(level) ?? 0) + 1);
  });
  return factor.levels.map((level) => counts.get(level.id) ?? 0);
}
