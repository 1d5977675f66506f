import { expect, it } from 'vitest';
import { cellKey } from '../../../renderer/derive/records/valueQuestions';
import { potsToMeasure } from '../../../renderer/document/queries';
import { passedOf } from '../../../renderer/panes/records/useShownPots';
import { drawnPlan } from '../../builders/samplePlan';

const pots = potsToMeasure(drawnPlan());
const [one = '', two = '', three = ''] = pots.map(({ id }) => id);

it('counts the passed cells of one column among the pots that are shown', () => {
  const passed = new Set([cellKey('m1', one), cellKey('m1', three), cellKey('m2', two)]);
  expect(passedOf(passed, 'm1', pots)).toBe(2);
  expect(passedOf(passed, 'm2', pots)).toBe(1);
  expect(passedOf(passed, 'm3', pots)).toBe(0);
  expect(passedOf(passed, 'm1', pots.slice(0, 2))).toBe(1);
});

it('looks at no pot where no cell is passed', () => {
  const looked: unknown[] = [];
  const watched = new Proxy(pots, {
    get: (list, name, self) => {
      looked.push(name);
      return Reflect.get(list, name, self) as unknown;
    },
  });
  expect(passedOf(new Set(), 'm1', watched)).toBe(0);
  expect(looked).toEqual([]);
});
