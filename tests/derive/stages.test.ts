import { describe, expect, it } from 'vitest';
import { stageStates } from '../../renderer/derive';
import { startFlood } from '../../renderer/document/commands';
import { emptyPlan, newShelf } from '../../renderer/document/new';
import { noticeKinds, type Notice, type Stage } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { example } from '../builders/examplePlans';
import { run } from '../builders/run';
import { drawnPlan, samplePlan } from '../builders/samplePlan';

const basil = example('basil');
const empty = emptyPlan('Nothing');
const stages: readonly Stage[] = [
  'rack',
  'light',
  'flood',
  'trial',
  'layout',
  'chart',
  'records',
  'findings',
];

const notice = (stage: Stage, severity: Notice['severity'], accepted?: string): Notice => ({
  // What a sheet is printed from may be wrong; it has nothing wrong of its own.
  kind: noticeKinds[stage][0] ?? 'layout-stale',
  severity,
  stage: stage === 'chart' ? 'layout' : stage,
  about: ['plan'],
  text: 'Something.',
  remedy: 'Mend it.',
  ...(accepted === undefined ? {} : { accepted }),
});
const stateOf = (plan: Plan, stage: Stage, notices: readonly Notice[] = []) =>
  stageStates(plan, notices)[stage];

const weights = (plan: Plan, share: number): Plan => {
  const values = Object.fromEntries(
    Object.entries(plan.records.values).map(([id, byPot]) => {
      const all = Object.entries(byPot);
      return [id, Object.fromEntries(all.slice(0, Math.ceil(share * all.length)))];
    }),
  );
  return { ...plan, records: { ...plan.records, values, marks: {} } };
};
const shelves = empty.rack.shelves;
const bareShelf: Plan = { ...empty, rack: { ...empty.rack, shelves: [newShelf('s1', shelves)] } };
const { trial } = samplePlan();
const oneLevel = trial && {
  ...trial,
  factors: trial.factors.map((f) => ({ ...f, levels: f.levels.slice(0, 1) })),
};
const darkAbove: Plan = {
  ...samplePlan(),
  rack: {
    ...samplePlan().rack,
    shelves: samplePlan().rack.shelves.map((s, i) => (i > 0 ? { ...s, lamps: [] } : s)),
  },
};
const noHours = run(samplePlan(), startFlood, {});

const half: Record<Stage, [Plan, string]> = {
  rack: [bareShelf, 'no tray yet'],
  light: [darkAbove, 'no lamps over shelf 2'],
  flood: [
    {
      ...noHours,
      flood: noHours.flood && {
        ...noHours.flood,
        zones: noHours.flood.zones.map((z) => ({ ...z, schedule: [] })),
      },
    },
    'no hours stated yet',
  ],
  trial: [{ ...samplePlan(), trial: oneLevel }, 'light has one level'],
  layout: [drawnPlan(), '12 pots shuffled, not planted'],
  chart: [samplePlan(), 'shuffle first'],
  records: [weights(basil, 0.5), 'of 432 harvest values'],
  findings: [weights(basil, 0.5), 'of 432 harvest values'],
};

const none: Record<Stage, string> = {
  rack: 'no shelf yet',
  light: 'no lamps yet',
  flood: 'no flooding planned',
  trial: 'nothing compared yet',
  layout: 'not shuffled yet',
  chart: 'shuffle first',
  records: 'nothing to measure yet',
  findings: 'no harvest values yet',
};

const whole: Record<Stage, string> = {
  rack: '216 pots on 3 shelves',
  light: '12 lamps over 3 shelves',
  flood: '9 trays flooded',
  trial: '12 combinations',
  layout: '216 pots planted',
  chart: 'ready to print',
  records: 'all 432 harvest values',
  findings: 'ready to read',
};

describe.each(stages)('the stage %s', (stage) => {
  it('is to do while it is empty or half done, and says what is lacking', () => {
    expect(stateOf(empty, stage)).toEqual({ state: 'todo', why: none[stage] });
    const [plan, why] = half[stage];
    expect(stateOf(plan, stage).state).toBe('todo');
    expect(stateOf(plan, stage).why).toContain(why);
  });

  it('is fine when it is done, also with a note or an accepted warning', () => {
    const fine = { state: 'fine', why: whole[stage] };
    expect(stateOf(basil, stage)).toEqual(fine);
    const soft = [notice(stage, 'note'), notice(stage, 'warn', 'known')];
    expect(stateOf(basil, stage, soft)).toEqual(fine);
  });

  it('wants a look with a warning or an accepted stop, and cannot work with an open one', () => {
    const [warn, stop] = [notice(stage, 'warn'), notice(stage, 'stop')];
    const accepted = notice(stage, 'stop', 'a case');
    expect(stateOf(basil, stage, [warn]).state).toBe('look');
    expect(stateOf(basil, stage, [accepted])).toMatchObject({
      state: 'look',
      why: expect.stringMatching(/^accepted: /),
    });
    // A sheet of a doubtful layout can be printed all the same.
    const worst = stage === 'chart' ? 'look' : 'stuck';
    expect(stateOf(basil, stage, [warn, accepted, stop]).state).toBe(worst);
    // Of what was not begun there is nothing to look at yet.
    expect(stateOf(empty, stage, [stop, warn]).state).toBe('todo');
  });
});

it('names one kind of notice, with its count, and counts several', () => {
  const uneven: Notice = { ...notice('light', 'warn'), kind: 'light-uneven' };
  const dim: Notice = { ...uneven, kind: 'light-too-low' };
  expect(stateOf(basil, 'light', [uneven]).why).toBe('uneven light');
  expect(stateOf(basil, 'light', [uneven, uneven]).why).toBe('2 × uneven light');
  expect(stateOf(basil, 'light', [uneven, dim]).why).toBe('2 warnings');
});

it('shuffles nothing by a design that does not fit the rack', () => {
  const misfit: Notice = { ...notice('trial', 'stop'), kind: 'scheme-does-not-fit' };
  expect(stateOf(samplePlan(), 'layout', [misfit])).toEqual({
    state: 'stuck',
    why: 'the trial does not fit the rack',
  });
  expect(stateOf(samplePlan(), 'layout', [{ ...misfit, accepted: 'so be it' }]).state).toBe('todo');
});

/** The growth rate was planned, and the dates it needs are there or not. */
const planned = (dates: boolean): Plan => ({
  ...basil,
  trial: {
    ...basil.trial,
    primaryIndex: 'relative-growth-rate',
    startDate: dates ? basil.trial.startDate : null,
    measurements: basil.trial.measurements.map((m) => (dates ? m : { ...m, date: null })),
  },
});

it('calls the findings fine only where the planned question can be answered', () => {
  expect(stageStates(planned(true)).findings.state).toBe('fine');
  expect(stageStates(planned(false)).findings).toEqual({
    state: 'look',
    why: 'question cannot be answered',
  });
  const accepted = {
    ...notice('findings', 'warn', 'so'),
    kind: 'question-not-answerable' as const,
  };
  expect(stateOf(basil, 'findings', [accepted]).state).toBe('look');
});

it('takes a trial that compares nothing as meant so from its first value on', () => {
  const begun: Plan = { ...samplePlan(), trial: trial && { ...trial, factors: [] } };
  for (const stage of ['trial', 'layout', 'chart'] as const) {
    expect(stateOf(begun, stage)).toEqual({ state: 'todo', why: 'nothing compared yet' });
  }
  const values = { m2: { 't1:1:1': 9 } };
  const weighed = { ...begun, records: { ...begun.records, values } };
  for (const stage of ['trial', 'layout', 'chart'] as const) {
    expect(stateOf(weighed, stage).state).toBe('fine');
  }
});

it('lets the findings wait while the trial is blinded', () => {
  const blinded = { ...basil, records: { ...basil.records, blinded: { since: '2026-01-01' } } };
  expect(stateOf(blinded, 'findings')).toEqual({ state: 'todo', why: 'waits while blinded' });
});
