import { expect, it } from 'vitest';
import { addReadings, editLamps, planRuns } from '../../renderer/document/commands';
import { seenFrom, seenFromLast } from '../../renderer/document/runs';
import { potLightOf } from '../../renderer/derive';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
import { drawnPlan } from '../builders/samplePlan';

const reading = {
  shelfId: 's1',
  xMm: 100,
  yMm: 100,
  zMm: 120,
  value: 200,
  unit: 'ppfd' as const,
  luxPerPpfd: null,
  date: null,
  note: '',
};

const count = (plan: Plan) => plan.light.readings.length;

it('a new run starts from the last readings, which are outdated once its lamps are moved', () => {
  const first = run(drawnPlan(), addReadings, { readings: [reading] });
  const planted = {
    ...first,
    layout: first.layout && { ...first.layout, plantedAt: '2026-03-02' },
  };
  const second = run(planted, planRuns, { runs: 2, swappedFactorId: null });
  expect(count(second)).toBe(1);
  expect(potLightOf(second).outdated.size).toBe(0);

  const lamp = second.rack.shelves[0]?.lamps[0];
  if (!lamp) throw new Error('the sample has lamps');
  const edits = [{ lampId: lamp.id, patch: { zMm: lamp.zMm - 30 } }];
  const lowered = run(second, editLamps, { edits });
  expect(potLightOf(lowered).outdated.size).toBe(1);
  const measured = run(lowered, addReadings, { readings: [reading] });
  expect(count(measured)).toBe(2);

  // What was measured then stays with the run that it was measured in.
  const before = seenFrom(measured, 'run0');
  expect(count(before)).toBe(1);
  expect(potLightOf(before).outdated.size).toBe(0);
  expect(before.rack).toEqual(first.rack);
  expect(seenFromLast(before)).toBe(measured);
});
