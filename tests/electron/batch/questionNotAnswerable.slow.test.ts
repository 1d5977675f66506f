import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkVerb } from '../../../electron/batch/verbs/check';
import { findingsVerb } from '../../../electron/batch/verbs/findings';
import { readArguments } from '../../../electron/batch/verb';
import { findingsInputOf, findingsOfPlan, noticesOf } from '../../../renderer/derive';
import { readPlan, writePlan } from '../../../renderer/document/open';
import { findingsOf, paragraph, type FindingsOptions } from '../../../renderer/engine/findings';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Trial } from '../../../shared-types/trial/trial';
import { tempFolder } from '../tempFolder';

const url = new URL('../../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(url, 'utf8'));
if (!read.ok || !read.plan.trial) throw new Error('the demo opens');
const basil = read.plan;
const trial = read.plan.trial;
const [START, HARVEST, LEAVES] = ['m60', 'm62', 'm63'];

const withTrial = (change: Partial<Trial>, values = basil.records.values): Plan => ({
  ...basil,
  trial: { ...trial, ...change },
  records: { ...basil.records, values },
});
const withoutDates = (moments: readonly string[]) =>
  trial.measurements.map((m) => (moments.includes(m.timepoint) ? { ...m, date: null } : m));
const rate = { primaryIndex: 'relative-growth-rate' } as const;

async function run(plan: Plan, verb: typeof checkVerb): Promise<unknown> {
  const path = join(await tempFolder(), 'plan.evenrack');
  await writeFile(path, writePlan(plan));
  return verb.run(readArguments(verb, [path]));
}

/** The sentences of the model that answers, alone. */
function wordsOf(plan: Plan, choice: FindingsOptions): string {
  const input = findingsInputOf(plan);
  const outcome = input && findingsOf(input, { ...choice, primaryOnly: true });
  if (!outcome?.ok) throw new Error(outcome?.missing ?? 'no trial');
  return paragraph(outcome.findings);
}

const told = (plan: Plan): Notice[] =>
  noticesOf(plan).filter(({ kind }) => kind === 'question-not-answerable');

describe('a question that cannot be answered as planned', () => {
  const start = trial.measurements.find(({ id }) => id === START);
  if (!start) throw new Error('the demo has a weighing at the start');
  const undated = withTrial({
    ...rate,
    startDate: null,
    measurements: withoutDates(['start']),
  });
  const cases: [string, Plan, RegExp, RegExp][] = [
    ['no start date', undated, /the plan has no start date/, /Enter the start date/],
    [
      'no dates at all',
      withTrial({
        ...rate,
        startDate: null,
        harvestDate: null,
        measurements: withoutDates(['start', 'harvest']),
      }),
      /no start date and no harvest date/,
      /Enter the start date and harvest date/,
    ],
    [
      'a harvest before the start',
      withTrial({
        ...rate,
        startDate: '2026-05-01',
        harvestDate: '2026-04-01',
        measurements: withoutDates(['start', 'harvest']),
      }),
      /2026-04-01 is not after the start on 2026-05-01/,
      /Correct the dates/,
    ],
    [
      'no weighing at the start',
      withTrial({
        primaryIndex: 'gain',
        measurements: trial.measurements.filter((m) => m.id !== START),
      }),
      /is not measured at the start/,
      /Plan .* at the start/,
    ],
    [
      'a weighing at the start without a value',
      withTrial({ primaryIndex: 'gain' }, { ...basil.records.values, [START]: {} }),
      /pots have a value of .*, but none has one at the start/,
      /Enter the values/,
    ],
    [
      'two weighings at the start, of which a new name left none that belongs',
      withTrial({
        primaryIndex: 'gain',
        measurements: [
          ...trial.measurements.map((m) => (m.id === START ? { ...m, name: 'plug' } : m)),
          { ...start, id: 'm999', name: 'pot and plug' },
        ],
      }),
      /plug and pot and plug were all measured at the start/,
      /Call the one that belongs/,
    ],
  ];

  it.each(cases)('is said, and no other answered: %s', (_name, plan, why, remedy) => {
    const outcome = findingsOfPlan(plan);
    if (outcome.ok) throw new Error('another question was answered');
    expect(outcome.missing).toMatch(/was planned\. It cannot be computed: /);
    expect(outcome.missing).toMatch(why);
    expect(told(plan)).toMatchObject([
      { severity: 'warn', stage: 'findings', text: outcome.missing },
    ]);
    expect(told(plan)[0]?.remedy).toMatch(remedy);
  });

  it('is said by check and by findings, in one line', async () => {
    const { notices } = (await run(undated, checkVerb)) as { notices: Notice[] };
    expect(notices.map(({ kind }) => kind)).toContain('question-not-answerable');
    await expect(run(undated, findingsVerb)).rejects.toThrow(
      /Relative growth rate of .* was planned\. It cannot be computed: the plan has no start date; Enter the start date/,
    );
  });

  it('is not said of a plan that narrowly has all it takes, nor before the trial has begun', () => {
    expect(told(withTrial(rate))).toEqual([]);
    expect(told(withTrial({ primaryIndex: 'gain' }))).toEqual([]);
    const [one] = Object.entries(basil.records.values[START] ?? {});
    if (!one) throw new Error('the demo has starting weights');
    const single = { ...basil.records.values, [START]: Object.fromEntries([one]) };
    expect(told(withTrial({ primaryIndex: 'gain' }, single))).toEqual([]);
    const early: Plan = {
      ...withTrial({ ...rate, startDate: null, measurements: withoutDates(['start']) }, {}),
      layout: basil.layout && { ...basil.layout, plantedAt: null },
    };
    expect(told(early)).toEqual([]);
  });

  it('leaves the person free to look at another, which is marked as not planned', () => {
    expect(wordsOf(undated, { measurementId: HARVEST, index: 'final' })).toMatch(
      /^This is not the planned question, which is about relative growth rate of .*: treat it as exploratory\./,
    );
    expect(wordsOf(basil, { measurementId: LEAVES })).toMatch(/^This is not the planned question/);
    expect(wordsOf(basil, {})).not.toMatch(/not the planned/);
  });
});
