import { expect, it } from 'vitest';
import type { Rack, Shelf } from '../../../shared-types/rack';
import {
  shelfField,
  shelfFigures,
  shelvesInRoom,
  type LightBasis,
} from '../../../renderer/engine/light';
import { kind, lamp, lightPlan, shelf, tray } from './racks';

const reflectances = { above: 0.7, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 };
const board = {
  id: 'w1',
  direction: 'across' as const,
  atMm: 200,
  thicknessMm: 10,
  reflectance: 0.5,
  downToMm: 100,
};

const small = (id: string, xMm = 0) => ({ ...tray({ id }), xMm, widthMm: 380, depthMm: 190 });

// One list for all, so that what is known of one case is there for the next.
const lampKinds = [kind({ lengthMm: 350, lossPer1000h: 0.05 })];

/** Racks of two shelves in a row, each shelf as the first; those that are named have a change. */
function rowOf(racks: number, changed: Record<string, Partial<Shelf>> = {}): Rack {
  const shelves = Array.from({ length: 2 * racks }, (_, nth): Shelf => {
    const id = `s${nth + 1}`;
    return shelf({
      id,
      number: nth + 1,
      reflectances,
      widthMm: 400,
      depthMm: 200,
      clearanceMm: 300,
      heightMm: 300 + 1500 * (nth % 2),
      canopy: { plantingMm: 50, harvestMm: 200 },
      stands: { xMm: 450 * Math.floor(nth / 2), yMm: 0, turnDeg: 0 },
      trays: [small(`t${nth + 1}`)],
      lamps: [50, 150].map((yMm, i) =>
        lamp({ id: `l${2 * nth + i}`, xMm: 200, yMm, zMm: 250, group: `group of ${id}` }),
      ),
      ...changed[id],
    });
  });
  return { shelves, lampKinds };
}

/** The figures of one shelf of a rack. */
function figuresOf(rack: Rack, nth: number, light: LightBasis = lightPlan()) {
  const asked = shelvesInRoom(rack)[nth];
  if (!asked) throw new Error('a shelf is expected');
  const found = shelfFigures(asked, rack.lampKinds, light);
  if (!found.ok) throw new Error(found.problem.metric);
  return found;
}

/** The same where nothing is known yet of shelves that are alike: with another list of lamp kinds. */
const afresh = (rack: Rack, nth: number, light?: LightBasis) =>
  figuresOf({ ...rack, lampKinds: [...lampKinds] }, nth, light);

it('shelves that are alike, with alike ones around them, share their figures', () => {
  const rack = rowOf(5);
  const found = rack.shelves.map((_, nth) => figuresOf(rack, nth));
  expect(found[5]).toBe(found[4]);
  expect(found[5]).toEqual(afresh(rack, 5));
  // The middle rack of five has two on either side; the others see other racks than it does.
  for (const nth of [0, 2, 6, 8]) expect(found[nth]?.ppfdUmol).not.toEqual(found[4]?.ppfdUmol);
});

const first = rowOf(5).shelves[4];
const lamps = first?.lamps ?? [];
const unlike: [string, string, Partial<Shelf>][] = [
  ['a lamp dimmed', 's5', { lamps: lamps.map((one, i) => ({ ...one, dimming: i })) }],
  ['a lamp that had burnt', 's5', { lamps: lamps.map((one) => ({ ...one, burntHours: 5000 })) }],
  ['a tray moved', 's5', { trays: [small('t5', 20)] }],
  ['a canopy', 's5', { canopy: { plantingMm: 51, harvestMm: 200 } }],
  ['a reflectance', 's5', { reflectances: { ...reflectances, above: 0.71 } }],
  ['a wall', 's5', { faces: { back: { kind: 'wall', reflectance: 0.5, distanceMm: 100 } } }],
  ['a board', 's5', { boards: [board], bays: [{ id: 'b51' }, { id: 'b52' }] }],
  ['a timer', 's5', { bays: [{ id: 'b51', photoperiodHours: 12 }] }],
  ['a lamp of the next rack', 's7', { lamps: [] }],
  ['a lamp of the rack beyond', 's9', { lamps: [] }],
  ['a timer of the next rack', 's7', { bays: [{ id: 'b71', photoperiodHours: 12 }] }],
  ['a canopy of the next rack', 's7', { canopy: { plantingMm: 120, harvestMm: 200 } }],
  ['a gap', 's7', { stands: { xMm: 1360, yMm: 0, turnDeg: 0 } }],
];

it.each(unlike)('unlike in %s: its own light, not that of its twin', (_what, id, change) => {
  const rack = rowOf(5, { [id]: change });
  const twin = figuresOf(rowOf(5), 4);
  const found = figuresOf(rack, 4);
  expect(found).toEqual(afresh(rack, 4));
  expect(found.dliMol).not.toEqual(twin.dliMol);
});

it('lamps that wear out, and fields, follow the shelf, too', () => {
  const rack = rowOf(3, { s3: { lamps: lamps.map((one) => ({ ...one, burntHours: 9000 })) } });
  const later = { ...lightPlan(), burntDays: 100 };
  expect(figuresOf(rack, 2, later)).toEqual(afresh(rack, 2, later));
  const [, , third, fourth] = shelvesInRoom(rack);
  if (!third || !fourth) throw new Error('four shelves are expected');
  const field = (one: Shelf, kinds: Rack['lampKinds']) =>
    shelfField(one, kinds, { heightMm: 50, gridMm: 100 }).ppfd;
  expect(field(fourth, lampKinds)).toEqual(field(fourth, [...lampKinds]));
  expect(field(fourth, lampKinds)).not.toEqual(field(third, lampKinds));
});

it('in a room the lamps alone are those of alike shelves, each shelf has a light of its own', () => {
  const room = { widthMm: 4000, depthMm: 2000, heightMm: 2500, walls: 0.7 };
  const stand = (nth: number) => ({ xMm: 500 + 900 * nth, yMm: 600, turnDeg: 0 as const });
  const stands = { s1: stand(0), s2: stand(0), s3: stand(1), s4: stand(1) };
  const changed = Object.fromEntries(
    Object.entries(stands).map(([id, place]) => [id, { stands: place }]),
  );
  const rack = { ...rowOf(2, changed), room };
  const found = figuresOf(rack, 2);
  expect(found.ppfdUmol).not.toEqual(figuresOf(rack, 0).ppfdUmol);
  expect(found).toEqual(afresh(rack, 2));
  // By another name of a group, which only its own shelf knows, nothing changes.
  const renamed = rack.shelves.map((one) => ({
    ...one,
    lamps: one.lamps.map((each) => ({ ...each, group: `z ${one.id}` })),
  }));
  expect(figuresOf({ ...rack, shelves: renamed }, 2)).toEqual(found);
  const dimmed = {
    s1: { lamps: lamps.map((one) => ({ ...one, dimming: 0.5 })), ...changed['s1'] },
  };
  const darker = { ...rowOf(2, { ...changed, ...dimmed }), room };
  expect(figuresOf(darker, 2)).toEqual(afresh(darker, 2));
  expect(figuresOf(darker, 2).ppfdUmol).not.toEqual(found.ppfdUmol);
});
