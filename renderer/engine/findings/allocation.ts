import { alikeDraws, keptNumbers, type Allocation, type DrawnLevels } from '../stats/randomisation';
import { drawPrepared, prepareTier } from '../trial/constraint/prepared';
import { drawnSite } from '../trial/draw/drawnFrom';
import { schemeShuffles, type Site, type Tier } from '../trial/site';
import type { FindingsInput } from './question';
import type { DesignModel } from './request';
import { constantWithinUnits, levelsPresent, unitColumn } from './roles';
import { type TrialTable } from './table/table';
import { COLUMN } from './table/columns';
import { list } from '../../words';

/** How many layouts, and by which seed. */
export interface LayoutsAsked {
  runs: number;
  seed: string;
  /** Whether they are for many tables: drawn once, where the draw and a shuffle of one table agree. */
  kept?: boolean;
}

/** Layouts that the findings take: enough that α is decided by 20 of them, and 1,999 at least. */
export function layoutsForFindings(alpha: number): number {
  return Math.max(1999, Math.min(19_999, Math.ceil(20 / alpha) - 1));
}

/** Layouts of one harvest in a rehearsal: one more would make α a whole number of them. */
export function layoutsForRehearsal(alpha: number): number {
  return Math.min(4999, Math.ceil(10 / alpha));
}

/** Layouts of a model that stands beside the one that answers. */
export function fewLayouts(alpha: number): number {
  return Math.max(499, Math.min(4999, Math.ceil(5 / alpha) - 1));
}

/**
 * How the factors on pots were drawn: by the layout's own scheme where the plan still is what it was
 * drawn from, else as the columns of the table tell. null where chance laid nothing on pots.
 */
export function allocationOf(
  input: FindingsInput,
  data: TrialTable,
  design: DesignModel,
  asked: LayoutsAsked,
): Allocation | null {
  if (!input.layout) return null;
  const { ppfdAtDraw, startByPot } = input;
  const site = drawnSite(
    {
      ...{ rack: input.rack, trial: input.trial, zones: input.zones },
      ppfdByPot: ppfdAtDraw ?? input.ppfdByPot,
      ...(startByPot ? { startByPot } : {}),
    },
    input.layout,
  );
  if (site) return siteAllocation(site, data, asked);
  const byTable = tableAllocation(data, design, asked);
  return byTable && { ...byTable, loose: true };
}

/** How a site's scheme draws the factors on pots. */
export function siteAllocation(
  site: Site,
  data: TrialTable,
  { runs, seed, kept = false }: LayoutsAsked,
): Allocation | null {
  const tier = site.tiers.find(({ unit }) => unit === 'pot');
  if (!tier) return null;
  const columns = tier.factors.map(({ id, name }) => data.factorColumns.get(id) ?? name);
  const numberOf = new Map(site.pots.map(({ id }, i) => [id, i]));
  const unitOf = data.pots.map(({ id }) => tier.units.classOf[numberOf.get(id) ?? -1] ?? -1);
  const groupOf = new Map(tier.groups.flatMap(({ units }, g) => units.map((u) => [u, g] as const)));
  // With one factor nothing is held in a shuffle, so that it is the draw itself.
  const shuffled = isShuffle(site) && !(kept && tier.factors.length === 1);
  const anew = shuffled ? null : drawnAnew(site, tier, unitOf, seed);
  let alike: number | null = null;
  return {
    ...{ factors: columns, runs, seed },
    ...(kept && { numbers: keptNumbers() }),
    groups: Int32Array.from(unitOf, (unit) => groupOf.get(unit) ?? -1),
    levels: levelsOf(data, columns),
    anew,
    alike: anew && (() => (alike ??= alikeDraws(anew, runs))),
    within: tier.groups.length > 1 ? (tier.usesBlocks ? 'blocks' : 'groups') : '',
  };
}

/** Whether a draw is a shuffle within groups and nothing more. */
export function isShuffle({ trial: { scheme, constraint } }: Site): boolean {
  return (
    schemeShuffles(scheme) &&
    (constraint.acceptanceShare >= 1 || constraint.balance.length === 0) &&
    constraint.likeNeighbours === null
  );
}

/** The levels at each row in layout after layout, each drawn once however often it is asked for. */
function drawnAnew(
  site: Site,
  tier: Tier,
  unitOf: readonly number[],
  seed: string,
): NonNullable<Allocation['anew']> {
  const combinations = tier.combinations.map(({ levels }) =>
    tier.factors.map(({ id, levels: own }) => own.find((l) => l.id === levels[id])?.name ?? ''),
  );
  const known: DrawnLevels[] = [];
  let prepared: ReturnType<typeof prepareTier> | null = null;
  return (run) => {
    const found = known[run];
    if (found) return found;
    prepared ??= prepareTier(site, tier);
    const { treatmentOf } = drawPrepared(site, prepared, `${seed} layout ${run}`);
    const laid = {
      combinations,
      codes: Int32Array.from(unitOf, (unit) => treatmentOf[unit] ?? -1),
    };
    known[run] = laid;
    return laid;
  };
}

/**
 * Labels of the factors on pots shuffled as the columns of a table say: within blocks and whatever
 * units carry other factors.
 */
export function tableAllocation(
  data: TrialTable,
  design: DesignModel,
  { runs, seed }: LayoutsAsked,
): Allocation | null {
  const drawn = design.tested.filter(
    ({ factor, unit }) => factor.kind === 'randomised' && unit === 'pot',
  );
  if (drawn.length === 0) return null;
  const columns = drawn.map(({ column }) => column);
  const within = [
    ...(levelsPresent(data, COLUMN.block).length > 1 ? [COLUMN.block] : []),
    ...design.randomUnits.flat(),
  ].filter((name, i, all) => name !== unitColumn('pot') && all.indexOf(name) === i);
  // A unit that holds whole others says nothing beside them.
  const finest = within.filter(
    (name) => !within.some((other) => other !== name && constantWithinUnits(data, name, other)),
  );
  const cells = finest.length > 0 ? finest : within.slice(0, 1);
  const codes = new Map<string, number>();
  const groups = Int32Array.from({ length: data.table.rowCount }, (_, i) => {
    const key = cells.map((name) => String(data.table.columns[name]?.[i])).join('\n');
    const code = codes.get(key) ?? codes.size;
    codes.set(key, code);
    return code;
  });
  return {
    ...{ factors: columns, runs, seed, groups, anew: null },
    levels: levelsOf(data, columns),
    within: list(cells),
  };
}

/** The levels of some columns at each row. */
export function levelsOf({ table }: TrialTable, columns: readonly string[]): string[][] {
  return Array.from({ length: table.rowCount }, (_, i) =>
    columns.map((name) => String(table.columns[name]?.[i] ?? '')),
  );
}
