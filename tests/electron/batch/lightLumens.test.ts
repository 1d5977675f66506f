import { describe, expect, it } from 'vitest';
import { tray } from '../../engine/light/racks';
import {
  run,
  answerOf,
  planOf,
  evennessBy,
  expectFigures,
  lumens,
  HEIGHT,
  potPlaces,
  wanted,
  bare,
} from './lightAnswer';

const HEAD = 'pot,shelf,tray,x_mm,y_mm,ppfd_umol_m2_s,dli_mol_m2_d,source,plus_minus_percent';

describe('light from the shell: lamps stated in lumens', () => {
  it('PPFD and DLI at every pot, with the range of the factor, and evenness', async () => {
    const found = await answerOf(planOf([bare], [lumens], { electricityPricePerKwh: 0.3 }));
    expect(found.pots).toHaveLength(18);
    found.pots.forEach((pot, i) => {
      const place = potPlaces[i];
      const value = wanted[i] ?? NaN;
      expect(pot).toMatchObject({
        pot: `1A-${'ABC'.charAt(place?.row ?? 0)}${(place?.column ?? 0) + 1}`,
        shelf: 1,
        tray: '1A',
        x_mm: place?.x,
        y_mm: place?.y,
        source: 'estimated',
      });
      expect(pot.ppfd_umol_m2_s / value).toBeCloseTo(1, 8);
      // PPFD · 3600 · 16 h · 10⁻⁶.
      expect(pot.dli_mol_m2_d).toBeCloseTo(value * 0.0576, 6);
      expect((pot.ppfd_lowest ?? 0) / value).toBeCloseTo(70 / 76, 8);
      expect((pot.ppfd_highest ?? 0) / value).toBeCloseTo(70 / 62, 8);
    });
    const whole = evennessBy(wanted);
    for (const row of [found.shelves[0], found.trays[0]]) {
      expectFigures(row, whole);
      expect(row?.mean_lowest).toBeCloseTo(((whole.mean ?? 0) * 70) / 76, 6);
      expect(row?.mean_highest).toBeCloseTo(((whole.mean ?? 0) * 70) / 62, 6);
      expect(row).toMatchObject({ source: 'estimated', without_guards: null });
    }
    expect(found.shelves[0]).toMatchObject({ shelf: 1, height_mm: HEIGHT });
    // The range alone leaves 70/62 − 1 = 12.9 %; height comes on top.
    expect(found.shelves[0]?.plus_minus_percent).toBeGreaterThan(12.9);
    expect(found.trays[0]?.tray).toBe('1A');
    expect(found).toMatchObject({ blocks: [], treatments: [], calibration: [], problems: {} });
    // 2 × 20 W at half: 20 W × 16 h = 0.32 kWh a day, at 0.30; 40 µmol/s × 57 600 s = 2.304 mol.
    expect(found.energy).toMatchObject({ days: 1, power_w: 20, currency: 'EUR' });
    expect(found.energy.kwh_per_day).toBeCloseTo(0.32, 12);
    expect(found.energy.cost_per_day).toBeCloseTo(0.096, 12);
    expect(found.energy.cost_total).toBeCloseTo(0.096, 12);
    expect(found.energy.shelves[0]?.mol_per_day).toBeCloseTo(2.304, 12);
    expect(found.energy.shelves[0]?.mol_per_kwh).toBeCloseTo(7.2, 12);
    // 18 pots' tops of 100 mm under what they get, of 40 µmol/s.
    const tops = wanted.reduce((sum, v) => sum + v * Math.PI * 0.05 ** 2, 0) / 40;
    expect(found.energy.shelves[0]?.share_on_pots).toBeCloseTo(tops, 8);
    expect(found.energy.shelves[0]?.share_on_trays).toBeLessThan(1);
  });

  it('as a table has its columns, with the ± of each pot, and one row a pot', async () => {
    const { code, out } = await run(planOf([bare], [lumens]), '--csv');
    expect(code).toBe(0);
    const [head, ...rows] = out.trimEnd().split('\n');
    expect(head).toBe(HEAD);
    expect(rows).toHaveLength(18);
    const [first = ''] = rows;
    const cells = first.split(',');
    expect(cells.slice(0, 5)).toEqual(['1A-A1', '1', '1A', '100', '100']);
    expect(Number(cells[5])).toBeCloseTo(wanted[0] ?? NaN, 5);
    expect(cells[7]).toBe('estimated');
    // Lumens whose factor may be 10 of 70 off, and what else is not known.
    expect(Number(cells[8])).toBeGreaterThan(10);
    expect(Number(cells[8])).toBeLessThan(40);
    const none = await run(planOf([], []), '--csv');
    expect(none.out).toBe(`${HEAD}\n`);
  });

  it('guard pots count in the whole and are left out beside it', async () => {
    const ringed = tray();
    if (ringed.grid) ringed.grid.guardRing = true;
    const found = await answerOf(planOf([{ ...bare, trays: [ringed] }], [lumens]));
    // Inside the ring of a 3 × 6 grid stand columns 2 to 5 of the middle row.
    expectFigures(found.trays[0], evennessBy(wanted));
    const inner = evennessBy(wanted.filter((_, i) => i > 6 && i < 11));
    expectFigures(found.trays[0]?.without_guards ?? undefined, inner);
  });
});
