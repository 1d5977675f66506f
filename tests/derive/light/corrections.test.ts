import { expect, it } from 'vitest';
import { noticesOf } from '../../../renderer/derive';
import { bind } from '../../../renderer/document';
import { correctPlanted, editZone, setBayHours } from '../../../renderer/document/commands';
import { setUpHtml } from '../../../renderer/print/report/setUp';
import { baysOf } from '../../../renderer/engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import { run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';
import { drawnWithWater } from '../../engine/treated/plans';

const planted = drawnPlan('2026-03-02');
const [shelf] = planted.rack.shelves;
if (!shelf) throw new Error('the sample has shelves');
const [{ id: bayId }] = baysOf(shelf);
const hours = bind(setBayHours, { shelfId: shelf.id, bayId, hours: 12 });
const corrected = (date: string): Plan =>
  run(planted, correctPlanted, { edit: hours, date, reason: 'timer was wrong' });
const told = (plan: Plan) => noticesOf(plan).filter(({ kind }) => kind === 'light-corrected');
const report = (plan: Plan) => JSON.stringify(setUpHtml(plan));

it('says that light before a correction is not computed by itself, in notices and report', () => {
  const plan = run(corrected('2026-03-20'), correctPlanted, {
    edit: bind(setBayHours, { shelfId: shelf.id, bayId, hours: 13 }),
    date: '2026-03-25',
    reason: 'again',
  });
  const said =
    'Lamps or hours of light were corrected after planting, on 2026-03-20 and 2026-03-25. All light is computed with the corrected settings, also that of the 23 days before.';
  expect(told(plan)).toMatchObject([{ severity: 'warn', about: ['shelf:s1'] }]);
  expect(told(plan)[0]?.text).toContain(said);
  expect(report(plan)).toContain(said);
});

it('is silent where the correction tells of planting day, or of the water', () => {
  expect(told(corrected('2026-03-02'))).toEqual([]);
  expect(report(corrected('2026-03-02'))).not.toContain('were corrected');
  const wet = drawnWithWater();
  const grown: Plan = { ...wet, layout: wet.layout && { ...wet.layout, plantedAt: '2026-03-02' } };
  const flooded = run(grown, correctPlanted, {
    edit: bind(editZone, { zoneId: 'z1', patch: { floodDepthMm: 30 } }),
    date: '2026-03-20',
    reason: 'crest was high',
  });
  expect(flooded.records.incidents).toHaveLength(1);
  expect(told(flooded)).toEqual([]);
});
