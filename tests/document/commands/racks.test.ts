import { expect, it } from 'vitest';
import type { Plan } from '../../../shared-types/plan';
import {
  addShelf,
  duplicateRack,
  duplicateShelf,
  placeRack,
  renumberShelves,
  reorderShelf,
  setRoom,
} from '../../../renderer/document/commands';
import { planSchema } from '../../../shared-types/plan';
import { kindOf, lampOf, planOf, shelfOf, trayOf } from '../../builders/rackParts';
import { run } from '../../builders/run';

const two = planOf('racks', {
  lampKinds: [kindOf()],
  shelves: [
    shelfOf({ trays: [trayOf()], lamps: [lampOf()] }),
    shelfOf({ id: 's2', number: 2, heightMm: 800, trays: [], lamps: [] }),
  ],
});
const place = { xMm: 1250, yMm: 0, turnDeg: 0 as const };
const copied = run(two, duplicateRack, { shelfIds: ['s1', 's2'], place });
const numbersAt = (plan: Plan) =>
  plan.rack.shelves.map(({ number, heightMm, stands }) => [number, heightMm, stands?.xMm ?? 0]);

it('a rack once more stands at its place with shelves, trays and lamps of its own', () => {
  expect(numbersAt(copied)).toEqual([
    [1, 300, 0],
    [2, 800, 0],
    [3, 300, 1250],
    [4, 800, 1250],
  ]);
  const ids = copied.rack.shelves.flatMap((s) => [s.id, ...s.trays.map((t) => t.id)]);
  expect(new Set(ids).size).toBe(ids.length);
  expect(copied.rack.shelves[2]?.lamps[0]?.group).toBe('shelf 3');
});

it('shelves are added and numbered within their rack', () => {
  const more = run(copied, duplicateShelf, { shelfId: 's1' });
  expect(numbersAt(more).at(-1)).toEqual([5, 1300, 0]);
  expect(numbersAt(run(copied, addShelf, {})).at(-1)?.[2]).toBe(0);
  const [, , third] = copied.rack.shelves;
  const turned = run(copied, reorderShelf, { shelfId: third?.id ?? '', to: 1 });
  expect(numbersAt(turned).map(([number]) => number)).toEqual([1, 2, 3, 4]);
  expect(turned.rack.shelves.find(({ id }) => id === third?.id)?.number).toBe(4);
  const mixed = { ...more, rack: { ...more.rack, shelves: [...more.rack.shelves].reverse() } };
  expect(numbersAt(run(mixed, renumberShelves, {})).map((one) => one.slice(1))).toEqual([
    [300, 0],
    [800, 0],
    [1300, 0],
    [300, 1250],
    [800, 1250],
  ]);
});

it('a rack at the origin and a plan without a room say nothing of them', () => {
  const there = run(two, placeRack, { shelfIds: ['s1'], place });
  expect(there.rack.shelves[0]?.stands).toEqual(place);
  const back = run(there, placeRack, { shelfIds: ['s1'], place: { xMm: 0, yMm: 0, turnDeg: 0 } });
  expect(back.rack).toEqual(two.rack);
  const room = { widthMm: 3000, depthMm: 3000, heightMm: 2500, walls: 0.5 };
  const roomy = run(two, setRoom, { room });
  expect(planSchema.parse(JSON.parse(JSON.stringify(roomy))).rack.room).toEqual(room);
  expect(run(roomy, setRoom, { room: null }).rack).toEqual(two.rack);
});
