import { expect, it } from 'vitest';
import { noticeSections } from '../../renderer/derive';
import { noticeKinds, type Notice } from '../../shared-types/notice';
import { noticeLabels } from '../../shared-types/noticeLabels';

const notice = (change: Partial<Notice>): Notice => ({
  kind: 'light-uneven',
  severity: 'warn',
  stage: 'light',
  about: ['shelf:s1'],
  text: 'Text.',
  remedy: 'Remedy.',
  ...change,
});

it('tells first what stops the answer, then stage by stage, like ones together', () => {
  const unreplicated = notice({ kind: 'factor-not-replicated', severity: 'stop', stage: 'trial' });
  const sections = noticeSections([
    notice({ about: ['shelf:s2'] }),
    notice({ kind: 'overtops', severity: 'stop', stage: 'flood' }),
    notice({ kind: 'low-power', stage: 'trial' }),
    notice({}),
    notice({ kind: 'no-readings', severity: 'note' }),
    notice({ accepted: 'known', about: ['shelf:s3'] }),
    { ...unreplicated, about: ['factor:f1'], accepted: 'a case' },
    unreplicated,
    notice({ kind: 'question-not-answerable', stage: 'findings' }),
  ]);
  const told = sections.map(({ of, groups }) => [of, groups.map(({ title }) => title)]);
  expect(told).toEqual([
    ['answer', ['Not replicated', 'Question cannot be answered']],
    // A stop comes before what is only doubtful, though later in the job.
    ['flood', ['Tray runs over']],
    ['light', ['2 × uneven light', 'Light not measured', 'Uneven light']],
    ['trial', ['Low power', 'Not replicated']],
  ]);
});

it('has a label of its own for every kind', () => {
  const kinds = Object.values(noticeKinds).flat();
  expect(new Set(kinds.map((kind) => noticeLabels[kind])).size).toBe(kinds.length);
});
