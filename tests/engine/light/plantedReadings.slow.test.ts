import { describe, expect, it } from 'vitest';
import type { LightReading } from '../../../shared-types/light';
import type { Rack, Shelf } from '../../../shared-types/rack';
import { lightNotices, potLight } from '../../../renderer/engine/light';
import { shelfModel } from '../../../renderer/engine/light/model';
import { lightStamp } from '../../../renderer/engine/lamps';
import { example } from '../../builders/examplePlans';
import { kind, lightPlan, threeStrips } from './racks';

const HEIGHT_MM = 150;
/** Shares of width and depth at which a careful person measures. */
const PLACES = [0.12, 0.37, 0.63, 0.88].flatMap((x) =>
  [0.15, 0.5, 0.85].map((y) => [x, y] as const),
);
/** What a good meter is off from one reading to the next; seven of them, in turn. */
const NOISE = [0.011, -0.014, 0.004, -0.008, 0.016, -0.003, 0.009];

const names = ['basil', 'two-lamps', 'a white bay'] as const;
type Name = (typeof names)[number];

const WALLS = { above: 0.8, canopy: 0.1, front: 0, back: 0.85, left: 0.85, right: 0.85 };
const WHITE: Rack = {
  shelves: [{ ...threeStrips(), clearanceMm: 400, reflectances: WALLS }],
  lampKinds: [kind({ lengthMm: 900, emission: { kind: 'beam', fullAngleDeg: 90 } })],
};

/** The first shelf of an example by itself, its lamps in two groups, and sound readings over it. */
function measured(name: Name, count: number, groupB = 1) {
  const rack = name === 'a white bay' ? WHITE : example(name).rack;
  const [first] = rack.shelves;
  if (!first) throw new Error(`${name} has no shelf`);
  const lamps = first.lamps.map((lamp, i) => ({
    ...lamp,
    group: i < first.lamps.length / 2 ? 'A' : 'B',
  }));
  const canopy = { plantingMm: HEIGHT_MM, harvestMm: HEIGHT_MM };
  const shelf: Shelf = {
    ...first,
    lamps,
    canopy,
    trays: first.trays.map(({ canopy: _, ...t }) => t),
  };
  const model = shelfModel(shelf, rack.lampKinds, { heightMm: HEIGHT_MM, reflected: true });
  const points = PLACES.slice(0, count).map(([x, y]) => ({
    xMm: Math.round(x * shelf.widthMm),
    yMm: Math.round(y * shelf.depthMm),
    zMm: HEIGHT_MM,
  }));
  const ppfd = model.at(points, (group) => (group === 'B' ? groupB : 1));
  const readings = points.map((point, i): LightReading => ({
    id: `m${i}`,
    shelfId: shelf.id,
    ...point,
    unit: 'ppfd',
    luxPerPpfd: null,
    value: (ppfd[i] ?? NaN) * (1 + (NOISE[i % 7] ?? 0)),
    date: null,
    note: '',
  }));
  return { rack: { lampKinds: rack.lampKinds, shelves: [shelf] }, shelf, readings };
}

const told = (rack: Rack, readings: LightReading[]) => {
  const light = lightPlan({ readings });
  const found = lightNotices({ rack, light }, potLight(rack, light));
  return found.filter(({ kind }) => kind.startsWith('reading')).map((n) => `${n.text} ${n.remedy}`);
};
const times = (factor: number) => (reading: LightReading) => ({
  ...reading,
  value: reading.value * factor,
});
const asLux = (reading: LightReading) => ({ ...reading, unit: 'lux' as const, luxPerPpfd: 70 });

describe.each(names)('readings of %s', (name) => {
  it.each([
    ['ten times', times(10), /ten times/],
    ['a tenth', times(0.1), /a tenth/],
    ['lux typed as PPFD', times(70), /lux typed as PPFD/],
    ['PPFD typed as lux', asLux, /PPFD typed as lux/],
  ] as const)('%s: one of two, one of twelve and all are named', (_, slip, words) => {
    for (const count of [2, 12]) {
      const { rack, readings } = measured(name, count);
      for (const many of [1, count]) {
        const planted = readings.map((reading, i) => (i < many ? slip(reading) : reading));
        expect(told(rack, planted).join(' '), `${many} of ${count}`).toMatch(words);
      }
    }
  });

  it('sound ones, few or many, and one that is 15 % off pass', () => {
    for (const count of [1, 2, 5, 12]) {
      const { rack, readings } = measured(name, count);
      expect(told(rack, readings), `${count} sound`).toEqual([]);
      const off = readings.map((reading, i) => (i === 0 ? times(1.15)(reading) : reading));
      expect(told(rack, off), `one of ${count} 15 % off`).toEqual([]);
    }
  });

  it('exchanged places are named, those that are next to alike are not', () => {
    for (const count of [4, 12]) {
      const { rack, readings } = measured(name, count);
      const exchange = (a?: LightReading, b?: LightReading) =>
        readings.map((reading) => ({
          ...reading,
          value: (reading === a ? b?.value : reading === b ? a?.value : null) ?? reading.value,
        }));
      const rising = [...readings].sort((a, b) => a.value - b.value);
      const [least, next] = rising;
      expect(told(rack, exchange(least, rising.at(-1))).join(' ')).toContain('look exchanged');
      const apart = (next?.value ?? NaN) / (least?.value ?? NaN);
      if (apart < 1.09) expect(told(rack, exchange(least, next))).toEqual([]);
    }
  });

  it('a lamp group far off its figures is named, one a little off is not', () => {
    const off = measured(name, 12, 0.25);
    expect(told(off.rack, off.readings).join(' ')).toMatch(/lamp group B|times their figures/);
    const near = measured(name, 12, 0.9);
    expect(told(near.rack, near.readings)).toEqual([]);
  });

  it('those of before a change of lamps are told, those of the lamps as they hang are not', () => {
    const { rack, shelf, readings } = measured(name, 6);
    const marked = (of: string) => readings.map((r) => ({ ...r, of, estimateUmol: r.value }));
    expect(told(rack, marked('other lamps')).join(' ')).toContain('before its lamps or surfaces');
    expect(told(rack, marked(lightStamp(shelf, rack.lampKinds)))).toEqual([]);
  });
});
