import { describe, expect, it } from 'vitest';
import type { Rack } from '../../../shared-types/rack';
import { lightEnergy } from '../../../renderer/engine/light/energy';
import { potLight } from '../../../renderer/engine/light/potLight';
import { rotatedLight } from '../../../renderer/engine/light/rotation';
import { kind, lamp, lightPlan, shelf, threeStrips, tray } from './racks';

const small = tray().grid;
const grid = small ? { ...small, rows: 2, columns: 2, firstXMm: 100, firstYMm: 100 } : null;
/** Two trays side by side on one shelf, and one alone under half the light. */
const rack: Rack = {
  lampKinds: [kind()],
  shelves: [
    shelf({
      lamps: [lamp({ yMm: 200 })],
      trays: [
        tray({ id: 't1', letter: 'A', widthMm: 400, depthMm: 400, grid }),
        tray({ id: 't2', letter: 'B', xMm: 600, widthMm: 400, depthMm: 400, grid }),
      ],
    }),
    shelf({
      id: 's2',
      number: 2,
      lamps: [lamp({ id: 'l2', dimming: 0.5, yMm: 200 })],
      trays: [tray({ id: 't3', widthMm: 400, depthMm: 400, grid })],
    }),
  ],
};
const swap = {
  t1: { placeOf: 't3', turned: false },
  t3: { placeOf: 't1', turned: false },
};

describe('moving trays by a rota', () => {
  const still = potLight(rack, lightPlan());
  const of = (id: string) => still.pots.get(id)?.ppfdUmol ?? NaN;

  it('without a rota leaves every pot its own light', () => {
    const { pots } = rotatedLight(rack, lightPlan(), [], 28);
    for (const [id, pot] of pots) expect(pot.ppfdUmol).toBeCloseTo(of(id), 10);
  });

  it('swapping for a quarter of the days gives the mean by days', () => {
    const rota = [{ fromDay: 8, toDay: 14, places: swap }];
    const { pots } = rotatedLight(rack, lightPlan(), rota, 28);
    const pot = pots.get('t1:1:2');
    expect(pot?.ppfdUmol).toBeCloseTo(0.75 * of('t1:1:2') + 0.25 * of('t3:1:2'), 10);
    expect(pot?.lowestUmol).toBeCloseTo(of('t3:1:2'), 10);
    expect(pot?.highestUmol).toBeCloseTo(of('t1:1:2'), 10);
    // PPFD · 3600 · hours · 10⁻⁶ (trade sheet, section 2).
    expect(pot?.dliMol).toBeCloseTo((pot?.ppfdUmol ?? NaN) * 0.0576, 10);
    expect(pots.get('t2:1:1')?.ppfdUmol).toBeCloseTo(of('t2:1:1'), 10);
  });

  it('swapping for half the days evens the two trays out', () => {
    const rota = [{ fromDay: 1, toDay: 14, places: swap }];
    const light = rotatedLight(rack, lightPlan(), rota, 28);
    expect(light.pots.get('t1:2:2')?.ppfdUmol).toBeCloseTo(
      light.pots.get('t3:2:2')?.ppfdUmol ?? NaN,
      10,
    );
    expect(light.rotated?.cvPercent ?? 99).toBeLessThan(light.still?.cvPercent ?? 0);
  });

  it('turning a tray half round puts the first pot where the last was', () => {
    const places = { t1: { placeOf: 't1', turned: true } };
    const { pots } = rotatedLight(rack, lightPlan(), [{ fromDay: 1, toDay: 28, places }], 28);
    // Pots 100 mm from the front left and 100 mm from the back right of a 400 mm tray.
    expect(pots.get('t1:1:1')?.ppfdUmol).toBeCloseTo(of('t1:2:2'), 10);
  });

  it('refuses clashes, strangers, misfits and overlapping days', () => {
    const one = (places: Parameters<typeof rotatedLight>[2][0]['places']) => () =>
      rotatedLight(rack, lightPlan(), [{ fromDay: 1, toDay: 7, places }], 28);
    expect(one({ t1: { placeOf: 't2', turned: false } })).toThrow(
      'trays 1A and 1B: both in the place of 1B',
    );
    expect(one({ t9: { placeOf: 't2', turned: false } })).toThrow('tray t9: not on the rack');
    expect(one({ t1: { placeOf: 't9', turned: false } })).toThrow('tray t9: not on the rack');
    const uneven: Rack = {
      ...rack,
      shelves: rack.shelves.map((s, i) =>
        i === 1 ? { ...s, trays: [tray({ id: 't3', grid })] } : s,
      ),
    };
    expect(() =>
      rotatedLight(uneven, lightPlan(), [{ fromDay: 1, toDay: 7, places: swap }], 28),
    ).toThrow(
      'tray 1A in the place of 2A: 400 mm × 400 mm against 1200 mm × 600 mm; trays of one size',
    );
    const days = (...spans: [number, number][]) =>
      spans.map(([fromDay, toDay]) => ({ fromDay, toDay, places: {} }));
    expect(() => rotatedLight(rack, lightPlan(), days([1, 7], [7, 9]), 28)).toThrow('day 7 lies');
    expect(() => rotatedLight(rack, lightPlan(), days([1, 29]), 28)).toThrow('within 1 to 28');
    expect(() => rotatedLight(rack, lightPlan(), [], 0)).toThrow('trial of 0 days');
  });
});

describe('energy', () => {
  it('240 W for 16 h and 42 days at 0.25 a kWh (trade sheet 5.3)', () => {
    const plan = lightPlan({ photoperiodHours: 16, electricityPricePerKwh: 0.25 });
    const lamps = Array.from({ length: 8 }, (_, i) => lamp({ id: `l${i + 1}`, dimming: 0.75 }));
    const used = lightEnergy(
      { shelves: [shelf({ lamps })], lampKinds: [kind({ powerW: 40 })] },
      plan,
      42,
    );
    expect(used.powerW).toBeCloseTo(240, 10);
    expect(used.kwhPerDay).toBeCloseTo(3.84, 10);
    expect(used.kwhTotal).toBeCloseTo(161.28, 9);
    expect(used.costTotal).toBeCloseTo(40.32, 9);
  });

  it('2.5 µmol/J are 9 mol per kWh (trade sheet 5.3); no price, no cost', () => {
    const watts = kind({ output: { kind: 'watts', efficacyUmolJ: 2.5 } });
    const used = lightEnergy(
      { shelves: [shelf({ lamps: [lamp()] })], lampKinds: [watts] },
      lightPlan(),
      42,
    );
    expect(used.shelves[0]?.molPerKwh).toBeCloseTo(9, 10);
    expect(used.costTotal).toBeNull();
  });

  it('share of the photons that lands on the tray: 0.51667 (trade sheet 1.4)', () => {
    const rack3 = { shelves: [threeStrips()], lampKinds: [kind()] };
    const [used] = lightEnergy(rack3, lightPlan(), 42).shelves;
    expect(used?.fluxUmolS).toBe(120);
    expect(Math.abs((used?.shareOnTrays ?? 0) - 0.51667)).toBeLessThan(0.0005);
    // 18 pots of 100 mm at a mean of 88.21542068.
    const expected = (18 * 88.21542068 * Math.PI * 0.05 ** 2) / 120;
    expect(used?.shareOnPots).toBeCloseTo(expected, 8);
  });

  it('refuses a negative trial', () => {
    expect(() => lightEnergy(rack, lightPlan(), -1)).toThrow('trial of -1 days');
  });
});
