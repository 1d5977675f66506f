import { describe, expect, it } from 'vitest';
import { addMeasurement, editMeasurement } from '../../../renderer/document/commands';
import { readPlan, writePlan } from '../../../renderer/document/open';
import { measurementsInOrder } from '../../../renderer/document/queries/records';
import { beforeOf } from '../../../renderer/document/records';
import { seriesOf, slowingOf, startBefore } from '../../../renderer/engine/findings';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';
import { run } from '../../builders/run';

// Fresh weight at start, twice between and at harvest, and dry weight at harvest beside it: so the
// names of the fresh weights are all that tells what belongs together.

function weighed(): Plan {
  let plan = drawnPlan();
  if (!plan.trial) throw new Error('the sample has a trial');
  const dates = { startDate: '2026-03-01', harvestDate: '2026-04-12' };
  plan = { ...plan, trial: { ...plan.trial, ...dates } };
  const name = plan.trial?.measurements[0]?.name ?? '';
  for (const date of ['2026-03-15', '2026-03-29']) {
    plan = run(plan, addMeasurement, { name, timepoint: 'interim', measurement: { date } });
  }
  plan = run(plan, addMeasurement, { name: 'dry weight', timepoint: 'harvest' });
  const [start, harvest, first, second, dry] = idsOf(plan);
  const pots = plan.layout?.assignments.map(({ potId }) => potId) ?? [];
  const grown = (grams: number) => Object.fromEntries(pots.map((id, i) => [id, grams + i / 10]));
  const values = Object.fromEntries(
    [start, first, second, harvest, dry].map((id, i) => [id, grown([2, 20, 40, 40.5, 4][i] ?? 0)]),
  );
  return { ...plan, records: { ...plan.records, values } };
}

const idsOf = (plan: Plan) => plan.trial?.measurements.map(({ id }) => id) ?? [];

/** What is taken for one thing with each measurement, all by ids. */
function links({ trial, records }: Plan) {
  if (!trial) throw new Error('a trial is expected');
  return trial.measurements.map((m) => ({
    series: seriesOf(trial, m).map(({ id }) => id),
    start: startBefore(trial, m)?.id,
    before: beforeOf(measurementsInOrder({ trial }), records.values, m)?.id,
    slowing: slowingOf({ trial, records }, m, 0.95)?.stopped,
  }));
}

const call = (plan: Plan, measurementId: string, name: string) =>
  run(plan, editMeasurement, { measurementId, patch: { name } });

describe('what measurements are of', () => {
  it('stays, with all that follows, whichever of them is called otherwise and in which order', () => {
    const plan = weighed();
    const before = links(plan);
    expect(before[1]).toMatchObject({ start: 'm1', before: 'm11', slowing: true });
    expect(before[1]?.series).toHaveLength(4);
    expect(before[4]).toMatchObject({ series: [idsOf(plan)[4]] });
    for (const order of [idsOf(plan), [...idsOf(plan)].reverse()]) {
      let renamed = plan;
      for (const [i, id] of order.entries()) {
        renamed = call(renamed, id, `something ${i}`);
        expect(links(renamed)).toEqual(before);
      }
      const read = readPlan(writePlan(renamed));
      expect(read.ok && links(read.plan)).toEqual(before);
    }
  });

  it('leaves no trace when a measurement gets its name back, or shares its quantity with none', () => {
    const plan = weighed();
    const [, , first = '', , dry = ''] = idsOf(plan);
    const name = plan.trial?.measurements[2]?.name ?? '';
    expect(call(call(plan, first, 'leaves'), first, name)).toEqual(plan);
    expect(call(plan, dry, 'oven weight').trial?.measurements[4]).not.toHaveProperty('quantity');
  });

  it('is taken over by a measurement that comes to bear the same name', () => {
    const plan = weighed();
    const renamed = call(plan, 'm2', 'shoot weight');
    const patch = { date: '2026-04-05' };
    const added = run(renamed, addMeasurement, {
      name: 'shoot weight',
      timepoint: 'interim',
      measurement: patch,
    });
    expect(links(added)[1]?.series).toHaveLength(5);
    const [, , , , dry = ''] = idsOf(plan);
    const once = call(call(plan, dry, 'fresh'), dry, plan.trial?.measurements[1]?.name ?? '');
    expect(once.trial?.measurements[4]).not.toHaveProperty('quantity');
  });
});
