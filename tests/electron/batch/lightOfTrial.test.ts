import { describe, expect, it } from 'vitest';
import { newGrid } from '../../../renderer/document/new';
import { newTrial } from '../../../renderer/document/newTrial';
import type { Plan } from '../../../shared-types/plan';
import { kind, lamp, tray } from '../../engine/light/racks';
import {
  run,
  answerOf,
  planOf,
  stripPpfd,
  evennessBy,
  expectFigures,
  lumens,
  potPlaces,
  wanted,
  bare,
} from './lightAnswer';

describe('light from the shell: several shelves, blocks and treatments', () => {
  const sides = (share: number) => ({
    above: 0,
    canopy: 0,
    front: share,
    back: share,
    left: share,
    right: share,
  });
  // Open, half, matt white, foil.
  const shelves = [0, 0.5, 0.85, 0.9].map((share, i) => ({
    ...bare,
    number: i + 1,
    heightMm: 200 + 550 * i,
    reflectances: sides(share),
  }));

  it('brighter sides give more light, and never more than the lamps send out', async () => {
    const found = await answerOf(planOf(shelves, [kind()]));
    expectFigures(found.shelves[0], evennessBy(wanted));
    const means = found.shelves.map((row) => row.mean ?? 0);
    expect([...means].sort((a, b) => a - b)).toEqual(means);
    expect(means[3]).toBeGreaterThan((means[0] ?? 0) * 1.2);
    for (const row of found.energy.shelves) {
      expect(row.share_on_trays).toBeGreaterThan(0);
      expect(row.share_on_trays).toBeLessThanOrEqual(1);
    }
    expect(found.energy.power_w).toBeCloseTo(4 * 20, 12);
  });

  it('evenness by block and by treatment of the drawn layout; energy over the dated trial', async () => {
    const plan = planOf([bare], [lumens], { electricityPricePerKwh: 0.25 });
    const blockOf = (i: number) => `Row ${Math.floor(i / 6) + 1}`;
    const drawn: Plan = {
      ...plan,
      trial: {
        ...newTrial({ start: 'm14', harvest: 'm15' }, 'Bark or clay?'),
        startDate: '2026-03-01',
        harvestDate: '2026-04-05',
        factors: [
          {
            id: 'f11',
            name: 'medium',
            kind: 'randomised',
            unit: 'pot',
            levels: [
              { id: 'v12', name: 'bark' },
              { id: 'v13', name: 'clay' },
            ],
            where: [],
          },
        ],
      },
      layout: {
        scheme: 'complete-blocks',
        seed: 'x',
        drawnAt: '2026-02-01T00:00:00Z',
        engineVersion: '1',
        drawnFrom: '',
        candidates: 1,
        swaps: [],
        plantedAt: null,
        assignments: potPlaces.map(({ row, column }, i) => ({
          potId: `t110:${row + 1}:${column + 1}`,
          block: blockOf(i),
          levels: { f11: i % 2 === 0 ? 'v12' : 'v13' },
          plant: null,
        })),
      },
    };
    const found = await answerOf(drawn);
    expect(found.blocks.map((row) => row.block)).toEqual(['Row 1', 'Row 2', 'Row 3']);
    found.blocks.forEach((row, b) => {
      expectFigures(row, evennessBy(wanted.filter((_, i) => Math.floor(i / 6) === b)));
      expect(row.source).toBe('estimated');
      expect((row.mean_lowest ?? 0) / (row.mean ?? 1)).toBeCloseTo(70 / 76, 8);
    });
    expect(found.treatments.map((row) => row.treatment)).toEqual([
      expect.stringContaining('bark'),
      expect.stringContaining('clay'),
    ]);
    found.treatments.forEach((row, t) => {
      expectFigures(row, evennessBy(wanted.filter((_, i) => i % 2 === t)));
    });
    // 1 March to 5 April: 35 days of 0.32 kWh at 0.25.
    expect(found.energy.days).toBe(35);
    expect(found.energy.kwh_total).toBeCloseTo(11.2, 10);
    expect(found.energy.cost_total).toBeCloseTo(2.8, 10);
  });
});

describe('light from the shell: a rota of tray moves', () => {
  // Two trays of one row under a strip that lights the front one better.
  const grid = { ...newGrid({ widthMm: 600, depthMm: 200 }), rows: 1, columns: 2, guards: [] };
  const front = tray({
    widthMm: 600,
    depthMm: 200,
    grid: { ...grid, pitchXMm: 400, firstXMm: 100, firstYMm: 100 },
  });
  const plan = planOf(
    [
      {
        ...bare,
        trays: [front, { ...front, letter: 'B', yMm: 300 }],
        lamps: [lamp({ yMm: 100, zMm: 380 })],
      },
    ],
    [kind()],
  );
  const at = (x: number, y: number) => stripPpfd(40, 1200, 260, x - 600, y - 100);
  const as = (placeOf: string, turned = false) => ({ placeOf, turned });
  const moved = (places: Record<string, { placeOf: string; turned: boolean }>): Plan => ({
    ...plan,
    light: { ...plan.light, rota: [{ fromDay: 4, toDay: 10, places }] },
  });

  it('gives every pot its mean over the days of the trial', async () => {
    const { overTrial, pots } = await answerOf(moved({ t110: as('t111', true), t111: as('t110') }));
    // Three days as drawn, seven in the other place, of ten; 1A turned half round.
    const want = [
      (3 * at(100, 100) + 7 * at(500, 400)) / 10,
      (3 * at(500, 100) + 7 * at(100, 400)) / 10,
      (3 * at(100, 400) + 7 * at(100, 100)) / 10,
      (3 * at(500, 400) + 7 * at(500, 100)) / 10,
    ];
    expect(overTrial?.days).toBe(10);
    expect(overTrial?.pots.map((pot) => pot.pot)).toEqual(['1A-A1', '1A-A2', '1B-A1', '1B-A2']);
    overTrial?.pots.forEach((pot, i) => {
      expect(pot.ppfd_umol_m2_s).toBeCloseTo(want[i] ?? NaN, 5);
      expect(pot.dli_mol_m2_d).toBeCloseTo((want[i] ?? NaN) * 0.0576, 6);
    });
    expect(overTrial?.pots[0]?.ppfd_lowest).toBeCloseTo(at(500, 400), 5);
    expect(overTrial?.pots[0]?.ppfd_highest).toBeCloseTo(at(100, 100), 5);
    expectFigures(overTrial?.with_rota, evennessBy(want));
    expectFigures(overTrial?.as_drawn, evennessBy(pots.map((pot) => pot.ppfd_umol_m2_s)));
  });

  it('that does not fit says why; without one there is nothing to tell', async () => {
    const short = planOf(
      [{ ...bare, trays: [front, { ...front, letter: 'B', widthMm: 500 }] }],
      [kind()],
    );
    const light = moved({ t110: as('t111'), t111: as('t110') }).light;
    const { overTrial } = await answerOf({ ...short, light });
    expect(overTrial).toEqual({ problem: expect.stringContaining('trays of one size') });
    expect((await answerOf(plan)).overTrial).toBeNull();
    const { code, err } = await run(moved({ t110: as('t111') }));
    expect(code).toBe(2);
    expect(err).toContain('light.rota[0].places: found a second tray in the place of "t111"');
  });
});
