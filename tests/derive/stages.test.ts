import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { stageStates } from '../../renderer/derive';
import { readPlan } from '../../renderer/document/open';
import type { Plan } from '../../shared-types/plan';

const url = new URL('../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(url, 'utf8'));
if (!read.ok || !read.plan.trial) throw new Error('the demo opens');
const { plan } = read;
const trial = read.plan.trial;

/** The growth rate was planned, and the dates it needs are there or not. */
const planned = (dates: boolean): Plan => ({
  ...plan,
  trial: {
    ...trial,
    primaryIndex: 'relative-growth-rate',
    startDate: dates ? trial.startDate : null,
    measurements: trial.measurements.map((m) => (dates ? m : { ...m, date: null })),
  },
});

it('calls the findings complete only where the planned question can be answered', () => {
  expect(stageStates(planned(true)).findings.state).toBe('complete');
  expect(stageStates(planned(false)).findings).toMatchObject({ state: 'progress', worst: 'warn' });
});
