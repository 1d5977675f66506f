import { describe, expect, it } from 'vitest';
import { pastedTwice, shiftedValues, type SlipSource } from '../../../renderer/document/records';
import { potsOfRack, walkingOrder, type Pot } from '../../../renderer/engine/geometry';
import { stream } from '../../../renderer/engine/trial';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { gridOf, shelfOf, trayOf } from '../../builders/rackParts';

// Two trays of 6 × 8 pots; weights of 20 ± 4 g to a tenth, that follow weights at the start of 2 ± 0.4 g.
const trays = [0, 1].map((i) =>
  trayOf({
    id: `t${i + 1}`,
    letter: 'AB'.charAt(i),
    xMm: i * 600,
    widthMm: 600,
    grid: gridOf({ rows: 6, columns: 8, pitchXMm: 70, pitchYMm: 90, potDiameterMm: 60 }),
  }),
);
const pots = potsOfRack({ shelves: [shelfOf({ trays })], lampKinds: [] });
const measurement = (change: Partial<Measurement> = {}): Measurement => ({
  id: 'm2',
  name: 'fresh weight',
  kind: 'weight',
  unit: 'g',
  decimals: 1,
  timepoint: 'harvest',
  date: null,
  lowest: 0,
  highest: null,
  ...change,
});
const start = measurement({ id: 'm1', timepoint: 'start' });

type Values = Record<string, number>;
const tenth = (value: number) => Math.round(value * 10) / 10;

function grown(seed: string, like = 0.9): { earlier: Values; later: Values } {
  const random = stream('sequences', seed);
  const earlier: Values = {};
  const later: Values = {};
  for (const pot of pots) {
    const size = random.normal();
    earlier[pot.id] = Math.round(100 * (2 + 0.4 * size)) / 100;
    const own = like * size + Math.sqrt(1 - like * like) * random.normal();
    later[pot.id] = tenth(20 + 4 * own);
  }
  return { earlier, later };
}
const source = (values: Values, earlier: Values | null, of = measurement()): SlipSource => ({
  measurement: of,
  pots,
  values,
  second: {},
  marks: {},
  before: earlier && { measurement: start, values: earlier },
  treatmentOf: new Map(),
});
const seeds = Array.from({ length: 400 }, (_, i) => String(i));

describe('a block pasted twice', () => {
  const [tray, other] = [pots.slice(0, 48), pots.slice(48)];

  it('is found to its length, wherever it stands', () => {
    for (const seed of seeds.slice(0, 40)) {
      const { later } = grown(seed);
      const twice = { ...later };
      for (let i = 0; i < 12; i++) {
        const [from, to] = [tray[i + 3], other[i + 20]];
        if (from && to) twice[to.id] = later[from.id] ?? 0;
      }
      const found = pastedTwice(source(twice, null));
      expect(found?.first.length).toBeGreaterThanOrEqual(12);
      expect(found?.first.map(({ id }) => id)).toContain(tray[3]?.id);
      expect(found?.second.map(({ id }) => id)).toContain(other[20]?.id);
    }
  });

  it('is not seen in sound columns, by weight or by count, nor in a few like values', () => {
    const wrong = seeds.filter((seed) => {
      const { later } = grown(seed);
      const counts = Object.fromEntries(
        Object.entries(later).map(([id, value]) => [id, Math.round(value / 4)]),
      );
      const leaves = measurement({ kind: 'count', unit: 'leaves', decimals: 0 });
      return pastedTwice(source(later, null)) ?? pastedTwice(source(counts, null, leaves));
    });
    // One column in ten thousand by chance, by its own reckoning.
    expect(wrong).toEqual([]);
    const same = Object.fromEntries(pots.map(({ id }) => [id, 3]));
    expect(pastedTwice(source(same, null))).toBeNull();
    const { later } = grown('few');
    const few = { ...later };
    for (let i = 0; i < 4; i++) few[other[i]?.id ?? ''] = later[tray[i]?.id ?? ''] ?? 0;
    expect(pastedTwice(source(few, null))).toBeNull();
  });

  it('is found where the start was pasted for the harvest, but plants may keep their leaves', () => {
    const { earlier, later } = grown('start');
    const pasted = {
      ...later,
      ...Object.fromEntries(tray.map(({ id }) => [id, earlier[id] ?? 0])),
    };
    const found = pastedTwice(source(pasted, earlier));
    expect(found?.otherColumn?.id).toBe('m1');
    expect(found?.first.length).toBe(48);
    const leaves = measurement({ kind: 'count', unit: 'leaves', decimals: 0 });
    const counts = Object.fromEntries(pots.map(({ id }, i) => [id, 3 + ((i * i) % 7)]));
    expect(pastedTwice(source(counts, counts, leaves))?.otherColumn ?? null).toBeNull();
  });
});

describe('shifted values', () => {
  const walked = (trayId: string) => walkingOrder(pots.filter((pot) => pot.trayId === trayId));

  /** The tray's values from a place on, each entered one pot late. */
  function shifted(later: Values, order: readonly Pot[], from: number): Values {
    const values = { ...later };
    for (let i = from; i < order.length; i++) {
      const [pot, before] = [order[i], order[i - 1]];
      if (pot && before) values[pot.id] = later[before.id] ?? 0;
    }
    return values;
  }

  it('are found in nearly every tray from a skipped pot on, and only there', () => {
    const order = walked('t2');
    let found = 0;
    const places: number[] = [];
    for (const seed of seeds.slice(0, 200)) {
      const { earlier, later } = grown(seed);
      const seen = shiftedValues(source(shifted(later, order, 12), earlier));
      if (seen.length === 0) continue;
      found += 1;
      expect(seen.map(({ trayId, by }) => [trayId, by])).toEqual([['t2', 1]]);
      places.push(order.findIndex(({ id }) => id === seen[0]?.pots[0]?.id));
    }
    expect(found).toBeGreaterThan(190);
    // Where it begins is an estimate: in the middle of the cases it is right.
    const middle = [...places].sort((a, b) => a - b)[Math.floor(places.length / 2)] ?? NaN;
    expect(Math.abs(middle - 12)).toBeLessThanOrEqual(1);
  });

  it('are not seen where plants merely grow unlike, or alike by place', () => {
    const wrong = seeds.filter((seed) => {
      const { earlier, later } = grown(seed, seed.length % 2 === 0 ? 0.3 : 0.9);
      return shiftedValues(source(later, earlier)).length > 0;
    });
    expect(wrong).toEqual([]);
    // A slope over the tray makes every pot like its neighbour.
    const random = stream('sequences', 'slope');
    const slope = (pot: Pot) => pot.xMm / 100 + 0.3 * random.normal();
    const [first, second] = [0, 1].map(() =>
      Object.fromEntries(pots.map((pot) => [pot.id, tenth(10 + slope(pot))])),
    );
    expect(shiftedValues(source(first ?? {}, second ?? {}))).toEqual([]);
  });
});
