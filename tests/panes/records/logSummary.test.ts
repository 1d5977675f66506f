import { expect, it } from 'vitest';
import { matchLog } from '../../../renderer/document/delivered';
import { logSummary } from '../../../renderer/panes/records/delivered/importing/logSummary';
import { sheetOfText } from '../../../renderer/tables';
import { drawnPlan } from '../../builders/samplePlan';

it('tells what a logger’s table would log, what is asked, and what stays out by reason', () => {
  const read = sheetOfText(
    'Date;Tray;EC (mS/cm);pH\n05.03.2026;1A;1,9;6\n05.03.2026;1A;2,1;x\n06.03.2026;1A;2;x\n06.03.2026;9C;2;\n08.03.2026;1A;;x\n',
  );
  const sheet = read.ok ? read.sheets[0] : undefined;
  const preview = sheet && matchLog(drawnPlan(), sheet);
  if (!preview) throw new Error('a table with lines is expected');
  const { lines, asked, leftOut, entries } = logSummary(drawnPlan(), preview);
  expect(lines).toEqual([
    {
      unit: 'tray 1A',
      measure: 'ec',
      from: '2026-03-05',
      to: '2026-03-06',
      days: 2,
      readings: 2,
      lowest: 1.9,
      mean: 2,
      highest: 2.1,
      replaced: 0,
    },
    {
      unit: 'tray 1A',
      measure: 'ph',
      from: '2026-03-05',
      to: '2026-03-05',
      days: 1,
      readings: 1,
      lowest: 6,
      mean: 6,
      highest: 6,
      replaced: 0,
    },
  ]);
  expect(asked).toEqual([
    'Names that the rack does not have: 9C. Choose a reservoir, shelf, bay or tray under “Is”.',
  ]);
  expect(leftOut).toEqual([
    { why: 'a number is expected', count: 3, found: 'x', lines: '3 to 4, 6' },
    { why: 'the rack has no unit called 9C', count: 1, found: '2', lines: '5' },
  ]);
  expect(entries).toEqual([
    { unitId: 't1', date: '2026-03-05', figures: { ec: 2, ph: 6 } },
    { unitId: 't1', date: '2026-03-06', figures: { ec: 2 } },
  ]);
});
