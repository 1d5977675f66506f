import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkVerb } from '../../../electron/batch/verbs/check';
import { readArguments } from '../../../electron/batch/verb';
import { readPlan, writePlan } from '../../../renderer/document/open';
import { potsOfRack } from '../../../renderer/engine/geometry';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { tempFolder } from '../tempFolder';

// The basil demo, which is sound, with one trouble of a size that is just enough for its notice, or
// just not. The sizes were found by halving; what is checked is that the notice comes with the trouble
// and not before it.

const url = new URL('../../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(url, 'utf8'));
if (!read.ok) throw new Error('the demo opens');
const basil = read.plan;
const [START, HARVEST] = ['m60', 'm62'];
const harvest = basil.records.values[HARVEST] ?? {};
const levelsOf = new Map(basil.layout?.assignments.map((a) => [a.potId, a.levels]));
const pots = new Map(potsOfRack(basil.rack).map((pot) => [pot.id, pot]));

function changed(change: (value: number, potId: string) => number): Plan {
  const values = Object.fromEntries(
    Object.entries(harvest).map(([id, value]) => [id, change(value, id)]),
  );
  return {
    ...basil,
    records: { ...basil.records, values: { ...basil.records.values, [HARVEST]: values } },
  };
}

/** One pot heavier by so many grams. */
const onePot = (grams: number) => changed((v, id) => (id === 't22:3:2' ? v + grams : v));

/** One cultivar that scatters by so many grams more, up and down in turn. */
function scattered(grams: number): Plan {
  let turn = 1;
  return changed((v, id) => {
    if (levelsOf.get(id)?.['f54'] !== 'v56') return v;
    turn = -turn;
    return v + turn * grams;
  });
}

/** Two opposite quarters of every tray heavier, which neither light nor rows nor columns explain. */
const quartered = (grams: number) =>
  changed((v, id) => {
    const pot = pots.get(id);
    return pot && pot.row > 3 === pot.column > 2 ? v + grams : v;
  });

/** So many grams more for each µmol m⁻² s⁻¹, which models that do not know the light lay elsewhere. */
const lightOf = new Map(basil.layout?.assignments.map((a) => [a.potId, a.ppfdUmol ?? 0]));
const steeper = (grams: number) => changed((v, id) => v + grams * ((lightOf.get(id) ?? 0) - 200));

/** Weighed a week before harvest too, with this share of the growth of 35 days in the last 7. */
function slowed(share: number): Plan {
  const start = basil.records.values[START] ?? {};
  const between = Object.fromEntries(
    Object.entries(harvest).map(([id, end]) => [id, end - (end - (start[id] ?? 0)) * share]),
  );
  const { trial } = basil;
  const first = trial?.measurements.find((m) => m.id === START);
  if (!trial || !first) throw new Error('the demo has a weighing at the start');
  const interim = { ...first, id: 'm900', timepoint: 'interim' as const, date: '2026-03-30' };
  return {
    ...basil,
    nextId: 901,
    trial: { ...trial, measurements: [...trial.measurements, interim] },
    records: { ...basil.records, values: { ...basil.records.values, m900: between } },
  };
}

async function check(plan: Plan): Promise<Notice[]> {
  const path = join(await tempFolder(), 'plan.evenrack');
  await writeFile(path, writePlan(plan));
  const { notices } = (await checkVerb.run(readArguments(checkVerb, [path]))) as {
    notices: Notice[];
  };
  return notices;
}

const troubles: { kind: Notice['kind']; has: Plan; hasNot: Plan; says: RegExp }[] = [
  {
    kind: 'influential-pot',
    has: onePot(16.5),
    hasNot: onePot(15.5),
    says: /2B-C2 \([0-9.]+ sd\)/,
  },
  {
    kind: 'spread-unequal',
    has: scattered(4.3),
    hasNot: scattered(3.9),
    says: /Brown–Forsythe p = 0\.00[0-9]/,
  },
  {
    kind: 'residuals-patterned',
    has: quartered(5.1),
    hasNot: quartered(4.7),
    says: /Moran's I 0\.[0-9]+, p = 0\.00[0-9]/,
  },
  {
    kind: 'position-changes-answer',
    has: steeper(0.085),
    hasNot: steeper(0.06),
    says: /^Brookleaf − Purple Fen is 5\.[0-9]+ g \(.*\) with the light at each pot, but [67]\.[0-9]+ g with .* standard errors away, outside the interval/,
  },
  // A tenth of the pace before: 0.1 × (1 − s) / 28 = s / 7 gives s = 0.0244.
  {
    kind: 'saturated',
    has: slowed(0.0235),
    hasNot: slowed(0.0255),
    says: /rose by [0-9.]+ g a day from 2026-03-30 to 2026-04-06, after [0-9.]+ g a day/,
  },
];

describe.each(troubles)('$kind', ({ kind, has, hasNot, says }) => {
  it('comes up in the check of a plan that has it, with its figures', async () => {
    const found = (await check(has)).find((notice) => notice.kind === kind);
    expect(found?.severity).toBe('warn');
    expect(found?.text).toMatch(says);
    expect(found?.remedy.length).toBeGreaterThan(20);
  });

  it('stays away from one that narrowly has not', async () => {
    expect((await check(hasNot)).map((notice) => notice.kind)).not.toContain(kind);
  });
});
