import { expect, test } from 'vitest';
import { comparePlans, potsIn, valuesIn } from '../../renderer/document/compare';
import { readPlan, writePlan } from '../../renderer/document/open';
import { planRuns } from '../../renderer/document/commands';
import { inRun, seenFrom } from '../../renderer/document/runs';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
import { twoRuns } from '../builders/twoRuns';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const path = join(import.meta.dirname, '../../renderer/app/examples/basil.json');
const read = readPlan(readFileSync(path, 'utf8'));
if (!read.ok) throw new Error('the example cannot be opened');
const { plan } = read;

const [measurement = ''] = Object.keys(plan.records.values);
const [pot = '', next = ''] = Object.keys(plan.records.values[measurement] ?? {});

function withValues(change: (values: Record<string, number>) => void): Plan {
  const copy = structuredClone(plan);
  change(copy.records.values[measurement] ?? {});
  return copy;
}

test('a plan differs in nothing from itself, whatever the order of its keys', () => {
  expect(comparePlans(plan, structuredClone(plan))).toEqual([]);
  const again = readPlan(writePlan(plan));
  expect(again.ok && comparePlans(plan, again.plan)).toEqual([]);
  const backwards = Object.fromEntries(Object.entries(plan).reverse()) as unknown as Plan;
  expect(comparePlans(plan, backwards)).toEqual([]);
});

test('one value more, one less and one other are told with their counts', () => {
  const mine = withValues((values) => Reflect.deleteProperty(values, pot));
  const theirs = withValues((values) => {
    values[next] = 99;
  });
  expect(valuesIn(theirs) - valuesIn(mine)).toBe(1);
  expect(comparePlans(mine, theirs).slice(1)).toEqual([
    { part: 'Values only here', mine: '0', theirs: '1' },
    {
      part: 'Values that differ',
      mine: '1 pot with another value',
      theirs: '1 pot with another value',
    },
  ]);
});

test('each part is told by its counts, and where those agree, that it is not the same', () => {
  const title = { ...plan, title: 'Other' };
  expect(comparePlans(plan, title)).toEqual([{ part: 'Title', mine: plan.title, theirs: 'Other' }]);
  const rack = structuredClone(plan);
  const shelf = rack.rack.shelves[0];
  if (!shelf) throw new Error('the example has a shelf');
  shelf.widthMm += 10;
  const [moved] = comparePlans(plan, rack);
  expect(moved?.theirs).toBe(`${moved?.mine ?? ''}, but not the same`);
  shelf.trays = [];
  const [fewer] = comparePlans(plan, rack);
  expect(fewer?.mine).toContain(`${potsIn(plan)} pots`);
  expect(fewer?.theirs).toContain(`${potsIn(rack)} pots`);
  expect(comparePlans(plan, { ...plan, layout: null, plants: [] }).map(({ part }) => part)).toEqual(
    ['Layout', 'Plants'],
  );
});

test('of several runs like is held against like, and every run that differs has its row', () => {
  const second = twoRuns();
  const first = seenFrom(second, 'run0');
  expect(comparePlans(second, first)).toEqual([]);
  const weighed = inRun(second, 'run0', (seen) => ({
    ...seen,
    records: { ...seen.records, values: { m2: { 't1:1:1': 12 } } },
  }));
  expect(comparePlans(second, weighed)).toEqual([
    {
      part: 'Run 1',
      mine: 'drawn with seed “seven herons”, 0 values',
      theirs: 'drawn with seed “seven herons”, 1 value',
    },
  ]);
  // A run that only one of them has: the others are still compared with their like.
  const third = run(second, planRuns, { runs: 3, swappedFactorId: null });
  expect(comparePlans(third, second)).toEqual([
    { part: 'Run 3', mine: 'not drawn, 0 values', theirs: 'none' },
  ]);
  expect(comparePlans(second, third)).toEqual([
    { part: 'Run 3', mine: 'none', theirs: 'not drawn, 0 values' },
  ]);
});
