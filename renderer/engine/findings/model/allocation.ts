import {
  alikeDraws,
  keptNumbers,
  type Allocation,
  type DrawnLevels,
} from '../../stats/randomisation';
import { drawPrepared, prepareTier } from '../../trial/constraint/prepared';
import { drawnSite } from '../../trial/draw/drawnFrom';
import { schemeShuffles, type Site, type Tier } from '../../trial/site/site';
import type { FindingsInput } from '../question';
import type { DesignModel } from './designModel';
import { constantWithinUnits, levelsPresent, unitColumn } from './roles';
import { type TrialTable } from '../table/table';
import { COLUMN } from '../table/columns';
import { list } from '../../../words';

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
  const runs = input.all ?? [input];
  if (!runs.some(({ layout }) => layout)) return null;
  const sites = runs.map(siteAtDraw);
  const known = sites.filter((site) => site !== null);
  if (known.length === runs.length) return runsAllocation(known, data, asked);
  const byTable = tableAllocation(data, design, asked);
  return byTable && { ...byTable, loose: true };
}

/** The site as one run was drawn; null where its plan has changed since. */
export function siteAtDraw(
  run: FindingsInput,
): { site: Site; run: string | null; seed: string } | null {
  const { rack, trial, zones, ppfdAtDraw, ppfdByPot, startByPot, bound, layout } = run;
  const site = drawnSite(
    {
      rack,
      trial,
      zones,
      bound,
      ppfdByPot: ppfdAtDraw ?? ppfdByPot,
      ...(startByPot ? { startByPot } : {}),
    },
    layout,
  );
  return site && { site, run: run.run ?? null, seed: layout?.seed ?? '' };
}

/** Each run drawn anew by itself; null where none draws anything on pots. */
export function runsAllocation(
  sites: readonly { site: Site; run: string | null; seed: string }[],
  data: TrialTable,
  asked: LayoutsAsked,
): Allocation | null {
  const parts = sites.flatMap(
    ({ site, run, seed }) =>
      siteAllocation(site, rowsReadBy(data, data.runs ? run : null), { ...asked, seed }) ?? [],
  );
  const [first] = parts;
  if (!first || parts.length < sites.length) return null;
  if (parts.length === 1) return first;
  const partOf = data.pots.map(({ of }) => sites.findIndex(({ run }) => run === of?.run));
  const merged = (numbers: (part: Allocation) => ArrayLike<number>): Int32Array => {
    const all = parts.map(numbers);
    return Int32Array.from(partOf, (part, i) => all[part]?.[i] ?? -1);
  };
  let before = 0;
  const offsets = parts.map(({ groups }) => {
    const offset = before;
    before += 1 + groups.reduce((most, group) => Math.max(most, group), 0);
    return offset;
  });
  const groups = merged((part) => part.groups).map((group, i) =>
    group < 0 ? group : group + (offsets[partOf[i] ?? 0] ?? 0),
  );
  const anew = parts.every((part) => part.anew)
    ? (run: number): DrawnLevels => {
        const laid = parts.flatMap((part) => part.anew?.(run) ?? []);
        const codes = Int32Array.from(partOf, (part, i) => laid[part]?.codes[i] ?? -1);
        return { combinations: laid[0]?.combinations ?? [], codes };
      }
    : null;
  let alike: number | null = null;
  return {
    ...first,
    groups,
    anew,
    alike: anew && (() => (alike ??= alikeDraws(anew, asked.runs))),
    within: list([...new Set(['runs', ...parts.map(({ within }) => within)])].filter(Boolean)),
  };
}

/** The table as a site of one run reads it: pots by the rack's own ids, those of other runs by none. */
export function rowsReadBy(data: TrialTable, run: string | null): TrialTable {
  if (run === null) return data;
  return {
    ...data,
    pots: data.pots.map((pot) => ({ ...pot, id: pot.of?.run === run ? pot.of.potId : '' })),
  };
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
    factors: columns,
    runs,
    seed,
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
    factors: columns,
    runs,
    seed,
    groups,
    anew: null,
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
