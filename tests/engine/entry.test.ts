import { expect, it } from 'vitest';
import { add, entry, num, real, whole } from '../../renderer/engine/entry';

it('gives what is there, noughts too, and throws where nothing is', () => {
  const list = Float64Array.of(0, 2);
  add(list, 1, 3);
  expect([real(list, 0), real(list, 1)]).toEqual([0, 5]);
  expect(whole(Int32Array.of(7), 0)).toBe(7);
  expect(num([0], 0)).toBe(0);
  expect(entry([''], 0)).toBe('');
  expect(() => real(list, 2)).toThrow('entry 2 of a list of 2');
  expect(() => {
    add(list, -1, 1);
  }).toThrow(RangeError);
  expect(() => whole(new Int32Array(0), 0)).toThrow(RangeError);
  expect(() => num([1], 1)).toThrow(RangeError);
  expect(() => entry([], 0)).toThrow(RangeError);
});
