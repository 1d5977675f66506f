import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { checkVerb } from '../../../electron/batch/verbs/check';
import { noticesOf } from '../../../renderer/derive';
import { readPlan, writePlan } from '../../../renderer/document/open';
import { codeOfPot } from '../../../renderer/document/queries';
import { potsOfRack, walkingOrder } from '../../../renderer/engine/geometry';
import type { Assignment } from '../../../shared-types/layout';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { tempFolder } from '../tempFolder';

const file = new URL('../../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(file, 'utf8'));
if (!read.ok) throw new Error('the demo does not open');
/** 216 pots, 54 of each cultivar; weights and leaf counts at start and harvest; five plants died. */
const demo = read.plan;

/** What `check` tells of the records of a plan that went through a file. */
async function recordNotices(plan: Plan): Promise<Notice[]> {
  const path = join(await tempFolder(), 'plan.evenrack');
  await writeFile(path, writePlan(plan));
  let [out, err] = ['', ''];
  const code = await runBatch(['check', path], [checkVerb], {
    out: (text) => (out += text),
    err: (text) => (err += text),
  });
  expect([code, err]).toEqual([0, '']);
  const { notices } = JSON.parse(out) as { notices: Notice[] };
  return notices.filter(({ stage }) => stage === 'records');
}

/** The same without the findings, which take their time and tell of the records only how many died. */
function withoutFindings(plan: Plan): Notice[] {
  const opened = readPlan(writePlan(plan));
  if (!opened.ok) throw new Error('what was written opens');
  return noticesOf(opened.plan).filter(({ stage }) => stage === 'records');
}

const harvest = demo.records.values['m62'] ?? {};
const heaviest = Math.max(...Object.values(harvest));
const [pot = ''] = Object.entries(harvest).find(([, value]) => value === heaviest) ?? [];

function recording(change: Partial<Plan['records']>): Plan {
  return { ...demo, records: { ...demo.records, ...change } };
}
const valued = (measurementId: string, values: Record<string, number>): Plan =>
  recording({
    values: {
      ...demo.records.values,
      [measurementId]: { ...demo.records.values[measurementId], ...values },
    },
  });
function bounded(highest: number): Plan {
  if (!demo.trial) throw new Error('the demo has a trial');
  const measurements = demo.trial.measurements.map((m) => (m.id === 'm62' ? { ...m, highest } : m));
  return { ...demo, trial: { ...demo.trial, measurements } };
}
function lacking(marks: Plan['records']['marks']): Plan {
  const values = Object.fromEntries(
    Object.entries(demo.records.values).map(([id, byPot]) => [
      id,
      Object.fromEntries(Object.entries(byPot).filter(([potId]) => potId !== pot)),
    ]),
  );
  return recording({ values, marks: { ...demo.records.marks, ...marks } });
}
function withDead(count: number): Plan {
  const ids = (demo.layout?.assignments ?? [])
    .filter(({ levels }) => levels['f54'] === 'v55')
    .slice(0, count)
    .map(({ potId }) => potId);
  const mark = { mark: 'dead', date: '2026-03-20', reason: '' } as const;
  return recording({ marks: Object.fromEntries(ids.map((id) => [id, mark])) });
}
const dead = { mark: 'dead', date: null, reason: '' } as const;

/** So many weights of tray 1A once more in tray 1B. */
function pasted(count: number): Plan {
  const [from, to] = ['t11:', 't12:'].map((tray) =>
    Object.keys(harvest).filter((id) => id.startsWith(tray)),
  );
  const copies = (from ?? []).slice(0, count).map((id, i) => [to?.[i] ?? '', harvest[id] ?? 0]);
  return valued('m62', Object.fromEntries(copies));
}

/** Tray 1A with start weights that foretell the harvest; from its fifth pot on each weight one pot late. */
function late(by: 0 | 1): Plan {
  const order = walkingOrder(potsOfRack(demo.rack).filter(({ trayId }) => trayId === 't11'));
  const ids = order.map(({ id }) => id);
  const starts = Object.fromEntries(ids.map((id) => [id, (harvest[id] ?? 0) / 20]));
  const weights = ids.slice(5).map((id, i) => [id, harvest[ids[i + 5 - by] ?? ''] ?? 0]);
  const values = {
    ...demo.records.values,
    m60: { ...demo.records.values['m60'], ...starts },
    m62: { ...harvest, ...Object.fromEntries(weights) },
  };
  return recording({ values });
}

/** Some plants harvested on 2 May, the others on 1 May. */
function harvestedBy(isLate: (assignment: Assignment) => boolean): Plan {
  const days = (demo.layout?.assignments ?? [])
    .filter(({ potId }) => harvest[potId] !== undefined)
    .map((one) => [one.potId, isLate(one) ? '2026-05-02' : '2026-05-01']);
  return recording({ days: { m62: Object.fromEntries(days) as Record<string, string> } });
}

const pairs: {
  kind: Notice['kind'];
  why: string;
  flawed: Plan;
  sound: Plan;
  says: string;
}[] = [
  {
    kind: 'value-out-of-range',
    why: 'the heaviest plant above the bound, or on it',
    flawed: bounded(heaviest - 0.1),
    sound: bounded(heaviest),
    says: `${codeOfPot(demo, pot)}: Fresh weight at harvest ${heaviest} g is outside 5 to `,
  },
  {
    kind: 'value-suspicious',
    why: 'half a leaf, or a whole one',
    flawed: valued('m63', { [pot]: (demo.records.values['m63']?.[pot] ?? 0) + 0.5 }),
    sound: valued('m63', { [pot]: (demo.records.values['m63']?.[pot] ?? 0) + 1 }),
    says: 'is a count but not whole.',
  },
  {
    kind: 'record-missing',
    why: 'a plant not weighed, or dead',
    flawed: lacking({}),
    sound: lacking({ [pot]: dead }),
    says: `is not recorded for 1 of 216 pots: ${codeOfPot(demo, pot)}.`,
  },
  {
    kind: 'unknown-pot',
    why: 'a weight for a hole outside the grid, or for one within',
    flawed: valued('m62', { 't13:7:1': 40 }),
    sound: valued('m62', { 't13:6:1': harvest['t13:6:1'] ?? 40 }),
    says: '1 recorded pot is not measured in this trial: ',
  },
  {
    kind: 'double-entry-differs',
    why: 'two people a tenth apart, or agreed',
    flawed: recording({ second: { m62: { [pot]: heaviest + 0.1 } } }),
    sound: recording({ second: { m62: { [pot]: heaviest } } }),
    says: 'in the second entry.',
  },
  {
    kind: 'block-pasted-twice',
    why: 'eight weights once more in the next tray, or four',
    flawed: pasted(8),
    sound: pasted(4),
    says: 'the 8 values from pot 1B-A1 on are the same, one by one, as those from pot 1A-A1 on',
  },
  {
    kind: 'values-shifted',
    why: 'weights from a pot on one pot late, or where they belong',
    flawed: late(1),
    sound: late(0),
    says: 'each value fits the plant in the pot before it.',
  },
  {
    kind: 'harvest-spread',
    why: 'trays of strong feed a day after the others, or all on one day',
    flawed: harvestedBy(({ levels }) => levels['f50'] === 'v53'),
    sound: harvestedBy(() => true),
    says: 'Strong (2.2 mS/cm) was taken 1.0 day later on average than weak (1.0 mS/cm).',
  },
  {
    // All of one cultivar: χ² = 3 k / (1 − k/216), p = 0.0066 for k = 4; fewer are not judged.
    kind: 'dead-uneven',
    why: 'four deaths of one cultivar, or three',
    flawed: withDead(4),
    sound: withDead(3),
    says: '4 of 54',
  },
];

describe('check tells the records', () => {
  it.each(pairs)('$kind: $why', async ({ kind, flawed, sound, says }) => {
    const told = kind === 'dead-uneven' ? recordNotices : withoutFindings;
    const found = (await told(flawed)).filter((notice) => notice.kind === kind);
    expect(found.length).toBeGreaterThan(0);
    expect(found[0]?.text).toContain(says);
    expect(found[0]?.remedy).toMatch(/\w/);
    const kinds = (await told(sound)).map((notice) => notice.kind);
    expect(kinds).not.toContain(kind);
  });

  it('nothing on the demo', async () => {
    expect(await recordNotices(demo)).toEqual([]);
  });
});
