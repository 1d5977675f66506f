import { writeCompact } from '../../../renderer/document/open';
import { describe, expect, it } from 'vitest';
import type { LightReading } from '../../../shared-types/light';
import { kind } from '../../engine/light/racks';
import { runText, run, answerOf, planOf, lumens, strips, bare } from './lightAnswer';

describe('light from the shell: what cannot be, or is not there', () => {
  it('an empty rack, a shelf without trays, a shelf without lamps', async () => {
    const empty = await answerOf(planOf([], []));
    expect(empty).toMatchObject({ pots: [], shelves: [], trays: [], problems: {} });
    expect(empty.energy).toMatchObject({ power_w: 0, kwh_per_day: 0 });
    const none = await answerOf(planOf([{ ...bare, trays: [] }], [lumens]));
    expect(none.shelves[0]).toMatchObject({ pots: 0, mean: null, min_to_mean: null });
    const dark = await answerOf(planOf([{ ...bare, lamps: [] }], [lumens]));
    expect(dark.pots.every((pot) => pot.ppfd_umol_m2_s === 0 && pot.dli_mol_m2_d === 0)).toBe(true);
    expect(dark.shelves[0]).toMatchObject({ mean: 0, min_to_mean: null, min_to_max: null });
    expect(dark.energy.shelves[0]).toMatchObject({ share_on_pots: null, mol_per_kwh: null });
  });

  it('a canopy over the lamps, and one above the bay, get no light from them', async () => {
    for (const plantingMm of [400, 900]) {
      const high = { ...bare, canopy: { plantingMm, harvestMm: plantingMm } };
      const { pots, shelves } = await answerOf(planOf([high], [lumens]));
      expect(pots.every((pot) => pot.ppfd_umol_m2_s === 0)).toBe(true);
      expect(shelves[0]?.plus_minus_percent).toBeNull();
    }
  });

  it('no hours, no watts, no dimming: 0 where it is 0, null where nothing can be said', async () => {
    const idle = { ...bare, lamps: strips.map((one) => ({ ...one, dimming: 0 })) };
    const off = await answerOf(planOf([idle], [kind({ powerW: 0 })], { photoperiodHours: 0 }));
    expect(off.pots.every((pot) => pot.dli_mol_m2_d === 0)).toBe(true);
    expect(off.energy.shelves[0]).toMatchObject({ mol_per_kwh: null, share_on_trays: null });
    const watts = kind({ powerW: 0, output: { kind: 'watts', efficacyUmolJ: 2.5 } });
    const { shelves } = await answerOf(planOf([bare], [watts]));
    expect(shelves[0]?.mean).toBe(0);
  });

  it('a closed bay that takes nothing up has no answer, and says so', async () => {
    const all = { above: 1, canopy: 1, front: 1, back: 1, left: 1, right: 1 };
    const { pots, problems } = await answerOf(planOf([{ ...bare, reflectances: all }], [lumens]));
    expect(pots).toEqual([]);
    expect(problems['shelf 1']).toMatch(/expected/);
  });

  it.each([
    ['rack.shelves[0].lamps[0].dimming', -0.1],
    ['rack.shelves[0].lamps[0].zMm', -1],
    ['rack.shelves[0].lamps[0].xMm', null],
    ['rack.lampKinds[0].output.lumens', 0],
    ['rack.lampKinds[0].output.lumensPerUmolS', 90],
    ['rack.lampKinds[0].powerW', -5],
    ['rack.shelves[0].reflectances.left', 1.2],
    ['light.photoperiodHours', 25],
    ['light.readings[0].shelfId', 's7'],
    ['light.readings[0].value', -3],
    ['light.readings[0].luxPerPpfd', 0],
  ])('%s = %s is refused by name', async (path, value) => {
    const readings: LightReading[] = [
      {
        id: 'r900',
        shelfId: 's1',
        xMm: 100,
        yMm: 100,
        zMm: 120,
        value: 90,
        unit: 'ppfd',
        luxPerPpfd: null,
        date: null,
        note: '',
      },
    ];
    const plan = structuredClone(planOf([bare], [lumens], { readings }));
    const keys = path.split(/[.[\]]+/).filter((key) => key !== '');
    const last = keys.pop() ?? '';
    const owner = keys.reduce<object>((at, key) => Reflect.get(at, key) as object, plan);
    Reflect.set(owner, last, value);
    const { code, out, err } = await run(plan);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(path);
    expect(err).toMatch(/: found .*; expected .*\n$/);
  });

  it('a figure that is no figure is no JSON', async () => {
    const text = writeCompact(planOf([bare], [lumens])).replace('"zMm":380', '"zMm":NaN');
    const { code, err } = await runText(text);
    expect(code).toBe(2);
    expect(err).toMatch(/line 1, column \d+: found .*NaN/);
  });
});
