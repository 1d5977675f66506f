import { expect, it } from 'vitest';
import type { Notice } from '../../../shared-types/notice';
import { ringedThings } from '../../../renderer/derive';
import { findingsLook } from '../../../renderer/panes/findings/onRack/look';
import { recordsLook } from '../../../renderer/panes/records/look';
import { drawnPlan } from '../../builders/samplePlan';

const plan = drawnPlan();
const words = { text: 'x', remedy: 'y' };
const notices: Notice[] = [
  {
    ...words,
    kind: 'value-out-of-range',
    severity: 'stop',
    stage: 'records',
    about: ['pot:t1:1:1', 'pot:t1:1:2'],
  },
  {
    ...words,
    kind: 'influential-pot',
    severity: 'warn',
    stage: 'findings',
    about: ['pot:t1:1:2'],
  },
  { ...words, kind: 'light-uneven', severity: 'warn', stage: 'light', about: ['tray:t1'] },
];

const lookAt = (of: typeof plan, all: Notice[]) =>
  findingsLook(of, all, null, 'residual', new Map());

it('rings what the findings themselves doubt, and leaves the rest to its own stage', () => {
  expect([...lookAt(plan, notices).ringed]).toEqual([['pot:t1:1:2', 'warn']]);
});

it('leaves to each stage its own rings, whichever was looked at first', () => {
  const quiet = { ...plan, records: { ...plan.records, incidents: [] } };
  expect([...recordsLook(quiet, notices).ringed]).toEqual([...ringedThings(notices, 'records')]);
  expect([...lookAt(plan, notices).ringed]).toHaveLength(1);
  expect([...ringedThings(notices, 'light')]).toEqual([['tray:t1', 'warn']]);
});
