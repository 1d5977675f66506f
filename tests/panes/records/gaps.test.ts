import { expect, it } from 'vitest';
import { passedOver } from '../../../renderer/panes/records/grid/gaps';
import { walkingOrder } from '../../../renderer/engine/geometry';
import { potsToMeasure } from '../../../renderer/document/queries';
import { drawnPlan } from '../../builders/samplePlan';

// Walking there and back: A1 A2 A3 B3 B2 B1, in each of two trays.
const pots = walkingOrder(potsToMeasure(drawnPlan()));
const passed = (recorded: string, marked = '') => {
  const idOf = new Map(pots.map((pot) => [pot.code, pot.id]));
  const ids = (codes: string) => codes.split(' ').flatMap((code) => idOf.get(code) ?? []);
  const values = Object.fromEntries(ids(recorded).map((id) => [id, 1]));
  const mark = { mark: 'dead', date: null, reason: '' } as const;
  const marks = Object.fromEntries(ids(marked).map((id) => [id, mark]));
  return pots.filter(({ id }) => passedOver(pots, values, marks).has(id)).map(({ code }) => code);
};

it('shows a pot that was passed over until it has a value or a mark', () => {
  expect(passed('1A-A1 1A-A3')).toEqual(['1A-A2']);
  expect(passed('1A-A1 1A-B3')).toEqual(['1A-A2', '1A-A3']);
  expect(passed('1A-A1 1A-A3', '1A-A2')).toEqual([]);
  expect(passed('1A-A1', '1A-A3')).toEqual(['1A-A2']);
});

it('takes what is still to come for no gap: the end, the start, other trays, long stretches', () => {
  expect(passed('1A-A1 1A-A2')).toEqual([]);
  expect(passed('1A-A3 1A-B3')).toEqual([]);
  expect(passed('1A-B1 2A-A2')).toEqual([]);
  expect(passed('1A-A1 1A-B2')).toEqual([]);
});
