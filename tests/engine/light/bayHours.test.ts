import { describe, expect, it } from 'vitest';
import { lightEnergy, lightNotices, potLight, rotatedLight } from '../../../renderer/engine/light';
import type { Rack } from '../../../shared-types/rack';
import { gridOf, trayOf } from '../../builders/rackParts';
import { kind, lamp, lightPlan, shelf } from './racks';

// Two trays beside each other under equal lamps, parted by a board down to the canopy; 16 h by plan.
const trays = [0, 600].map((xMm, i) =>
  trayOf({
    id: `t${i + 1}`,
    letter: 'AB'.charAt(i),
    xMm,
    widthMm: 600,
    grid: gridOf({ columns: 3 }),
  }),
);
const rack = (rightHours?: number): Rack => ({
  lampKinds: [kind({ lengthMm: 500, powerW: 30 })],
  shelves: [
    shelf({
      trays,
      lamps: [300, 900].map((xMm, i) => lamp({ id: `l${i + 1}`, xMm })),
      boards: [
        {
          id: 'w1',
          direction: 'across',
          atMm: 600,
          thicknessMm: 18,
          reflectance: 0.85,
          downToMm: 0,
        },
      ],
      bays: [
        { id: 'b1' },
        { id: 'b2', ...(rightHours !== undefined && { photoperiodHours: rightHours }) },
      ],
    }),
  ],
});
const mean = (rack_: Rack, bayId: string) => {
  const light = potLight(rack_, lightPlan());
  const pots = [...light.pots.values()].filter(({ potId }) =>
    potId.startsWith(bayId === 'b1' ? 't1' : 't2'),
  );
  return pots.reduce((sum, { dliMol }) => sum + dliMol, 0) / pots.length;
};

// DLI = PPFD · 3600 · hours · 10⁻⁶ (ANSI/ASABE S640), so that it goes with the hours of the timer.
describe('hours of a bay', () => {
  it('make its DLI, and leave the other bay alone', () => {
    const [left, right] = [mean(rack(), 'b1'), mean(rack(), 'b2')];
    expect(left).toBeCloseTo(right, 9);
    expect(mean(rack(12), 'b2')).toBeCloseTo(right * 0.75, 9);
    expect(mean(rack(12), 'b1')).toBeCloseTo(left, 12);
  });

  it('make the energy of its lamps', () => {
    const { shelves } = lightEnergy(rack(12), lightPlan(), 10);
    // 30 W for 16 h and 30 W for 12 h.
    expect(shelves[0]?.kwhPerDay).toBeCloseTo((30 * 16 + 30 * 12) / 1000, 12);
    expect(shelves[0]?.powerW).toBe(60);
    // 40 µmol/s each.
    expect(shelves[0]?.molPerDay).toBeCloseTo((40 * 3600 * (16 + 12)) / 1e6, 9);
  });

  it('count where a tray stands, when trays change places', () => {
    const places = {
      t1: { placeOf: 't2', turned: false },
      t2: { placeOf: 't1', turned: false },
    };
    const rota = [{ fromDay: 6, toDay: 10, places }];
    const { pots } = rotatedLight(rack(12), lightPlan(), rota, 10);
    const first = pots.get('t1:1:1');
    if (!first) throw new Error('the tray has pots');
    const still = potLight(rack(12), lightPlan());
    const here = still.pots.get('t1:1:1')?.dliMol ?? 0;
    const there = still.pots.get('t2:1:1')?.dliMol ?? 0;
    expect(first.dliMol).toBeCloseTo((here + there) / 2, 9);
  });

  it('are doubted bay by bay', () => {
    const kinds = (hours: number) =>
      lightNotices({ rack: rack(hours), light: lightPlan() })
        .filter(({ kind: k }) => k === 'photoperiod-implausible')
        .map(({ about, text }) => [about, text]);
    expect(kinds(20)).toEqual([]);
    expect(kinds(22)).toEqual([
      [['bay:b2'], expect.stringMatching(/^The timer of bay 1 right is set to 22 hours/)],
    ]);
  });
});

describe('a tray beneath a board', () => {
  it('is judged in each bay by itself', () => {
    const tray = trayOf({ grid: gridOf({ empty: [] }) });
    const dim = rack();
    const [own] = dim.shelves;
    if (!own) throw new Error('one shelf');
    const lamps = own.lamps.map((one, i) => ({ ...one, dimming: i === 0 ? 1 : 0.3 }));
    const light = lightPlan({ lowestMinToMean: 0.55 });
    const uneven = (boards: typeof own.boards, bays: typeof own.bays) =>
      lightNotices({
        rack: { ...dim, shelves: [{ ...own, trays: [tray], lamps, boards, bays }] },
        light,
      }).filter(({ kind: k }) => k === 'light-uneven').length;
    expect(uneven(own.boards, own.bays)).toBe(0);
    expect(uneven(undefined, undefined)).toBe(1);
  });
});
