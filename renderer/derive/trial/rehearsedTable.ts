import {
  COLUMN,
  trialTable,
  type FindingsInput,
  type Question,
  type TrialTable,
} from '../../engine/findings';
import { assignmentsOf, type Grown, type TrialInput } from '../../engine/trial';
import { ONCE } from '../../engine/trial/input';
import type { Site } from '../../engine/trial/site/site';

/** What made-up harvests stand on: the trial, and how deep the water of each pot is. */
export interface RehearsedInput extends TrialInput {
  wetDepthByPot: ReadonlyMap<string, number>;
}

/** The table of the findings before anything has grown: places, blocks, light, depth of water. */
export function bareTable(input: RehearsedInput, site: Site, question: Question): TrialTable {
  const assignments = assignmentsOf(site, {
    treatmentOf: site.tiers.map((tier) => new Int32Array(tier.units.count)),
  });
  const byPot = (value: (i: number) => number): Record<string, number> =>
    Object.fromEntries(site.pots.map((pot, i) => [pot.id, value(i)]));
  const values = {
    [question.measurement.id]: byPot(() => 0),
    ...(question.start ? { [question.start.id]: byPot((i) => i) } : {}),
  };
  const { count, swapped } = input.grown ?? ONCE;
  const runs = Array.from({ length: count }, (_, k): FindingsInput => {
    // That the levels are swapped is all that is asked of it here.
    const swap = { fromRun: '', factorId: swapped ?? '', step: k };
    return {
      ...(count > 1 ? { run: `Run ${k + 1}` } : {}),
      ...(k > 0 && swapped !== null ? { bound: { swap, assignments: [] } } : {}),
      rack: input.rack,
      zones: input.zones,
      trial: site.trial,
      // Only who stands where is read of it.
      layout: {
        scheme: input.trial.scheme,
        seed: 'rehearsal',
        drawnAt: '',
        engineVersion: '',
        drawnFrom: '',
        candidates: 1,
        assignments,
        swaps: [],
        plantedAt: null,
      },
      records: { values, second: {}, marks: {}, incidents: [] },
      ppfdByPot: input.ppfdByPot,
      blockByPot: new Map(),
      wetDepthByPot: input.wetDepthByPot,
    };
  });
  const [own] = runs;
  if (!own) throw new Error('a rehearsal is grown once at least');
  return trialTable(count > 1 ? { ...own, all: runs } : own, question);
}

/** The table with one harvest in it; without a response, every plant alive has 0. */
export function filled(
  base: TrialTable,
  site: Site,
  { alive, start, levels }: Grown,
  response: Float64Array | null,
): TrialTable {
  const columns = { ...base.table.columns };
  columns[COLUMN.start] = Array.from(start);
  columns[COLUMN.response] = Array.from(alive, (lives, i) => (lives ? (response?.[i] ?? 0) : null));
  for (const factor of site.trial.factors) {
    const column = base.factorColumns.get(factor.id) ?? factor.name;
    const own = levels.get(factor.id);
    if (own) columns[column] = Array.from(own, (level) => factor.levels[level]?.name ?? null);
  }
  const leftOut = base.pots.flatMap((pot, i) => (alive[i] ? [] : [{ pot, why: 'dead' as const }]));
  return { ...base, table: { ...base.table, columns }, leftOut };
}

export function responseIn({ table }: TrialTable): Float64Array {
  return Float64Array.from(table.columns[COLUMN.response] ?? [], (value) => Number(value ?? NaN));
}
