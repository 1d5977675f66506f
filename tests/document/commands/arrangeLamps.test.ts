import { expect, test } from 'vitest';
import { applyCommand } from '../../../renderer/document/apply';
import { arrangeLamps } from '../../../renderer/document/commands';
import { newLamp } from '../../../renderer/document/new';
import { samplePlan } from '../../builders/samplePlan';

test('a proposal moves the lamps that hang there, adds what is missing and keeps groups', () => {
  const plan = samplePlan();
  const [shelf] = plan.rack.shelves;
  if (!shelf) throw new Error('no shelf');
  const like = newLamp('l0', 'k1', shelf);
  const grouped = {
    ...plan,
    rack: {
      ...plan.rack,
      shelves: plan.rack.shelves.map((s) =>
        s.id === 's1' ? { ...s, lamps: s.lamps.map((lamp) => ({ ...lamp, group: 'front' })) } : s,
      ),
    },
  };
  const lamps = [100.04, 300].map((yMm) => ({ ...like, yMm, dimming: 0.66666 }));
  const outcome = applyCommand(grouped, arrangeLamps, { shelfId: 's1', lamps });
  if (!outcome.ok) throw new Error(outcome.reason);
  const [changed, other] = outcome.plan.rack.shelves;
  expect(changed?.lamps).toMatchObject([
    { id: 'l1', yMm: 100, dimming: 0.667, group: 'front' },
    { id: 'l10', yMm: 300, dimming: 0.667 },
  ]);
  expect(other).toBe(grouped.rack.shelves[1]);
  expect(outcome.label).toBe('Arrange the lamps over shelf 1');
  const fewer = applyCommand(outcome.plan, arrangeLamps, { shelfId: 's1', lamps: lamps.slice(1) });
  expect(fewer.ok && fewer.plan.rack.shelves[0]?.lamps.map((lamp) => lamp.id)).toEqual(['l1']);
  const unknown = [{ ...like, kindId: 'k99' }];
  expect(applyCommand(grouped, arrangeLamps, { shelfId: 's1', lamps: unknown }).ok).toBe(false);
});
