import { describe, expect, it } from 'vitest';
import {
  directLight,
  fieldOf,
  jobs,
  keepFields,
  lightGroupsOf,
  lightIntervalsOf,
  lightOverTrialOf,
  noticesOf,
  lampFileOf,
  polarCurvesOf,
  potLightOf,
  potsOf,
  readReadings,
  regularRota,
  shelvesToPicture,
  trialDaysOf,
  twoHeightsOf,
} from '../../../renderer/derive';
import type { Plan } from '../../../shared-types/plan';
import { planSchema } from '../../../shared-types/plan';
import { example } from '../../builders/examplePlans';
import { samplePlan } from '../../builders/samplePlan';

const demo: Plan = example('basil');
/** The demo before anybody went round with a meter. */
const basil: Plan = { ...demo, light: { ...demo.light, readings: [] } };
const ppfd = { unit: 'ppfd', luxPerPpfd: null, date: null } as const;

describe('a table of meter readings', () => {
  it('is read by place, or by pot code with the canopy as height', () => {
    const byPlace = readReadings(basil, 'shelf;x;y;z;value\n1;300,5;150;210;214', ppfd);
    const [shelf] = basil.rack.shelves;
    expect(byPlace).toMatchObject({
      ok: true,
      readings: [{ shelfId: shelf?.id, xMm: 300.5, yMm: 150, zMm: 210, value: 214, unit: 'ppfd' }],
    });
    const pot = potsOf(basil).find((p) => p.code === '2B-C3');
    const byPot = readReadings(basil, 'pot,lux\n2b c3,15000', { ...ppfd, luxPerPpfd: 70 });
    expect(byPot).toMatchObject({
      ok: true,
      // Canopy 110 mm at planting and 260 mm at harvest: 185 mm midway.
      readings: [{ xMm: pot?.xMm, yMm: pot?.yMm, zMm: 185, unit: 'lux', luxPerPpfd: 70 }],
    });
  });

  it('places are in the plan’s unit unless a column says otherwise; a date is the reading’s own', () => {
    const inches: Plan = { ...basil, display: { lengths: 'imperial' } };
    const text = 'shelf,x,y_mm,z (in),value,date\n1,10,150,8.5,214,2026-03-02\n1,20,150,,220,';
    const read = readReadings(inches, text, { ...ppfd, date: '2026-04-01' });
    expect(read).toMatchObject({
      ok: true,
      // An inch is 25.4 mm; without a height the canopy's, 185 mm midway.
      readings: [
        { xMm: 254, yMm: 150, zMm: 215.9, date: '2026-03-02' },
        { xMm: 508, yMm: 150, zMm: 185, date: '2026-04-01' },
      ],
    });
    const far = readReadings(inches, 'shelf,x,y,value,date\n1,50,1,9,2026-02-30', ppfd);
    expect(far).toEqual({
      ok: false,
      problems: [
        'Line 2, x: found 50; a place on shelf 1 from 0 to 47.24 in is expected.',
        'Line 2, date: found 2026-02-30; a date such as 2026-03-02 is expected.',
      ],
    });
  });

  it('with any fault is refused whole: line, what was found, what is expected', () => {
    const answer = readReadings(
      basil,
      'shelf,x,y,value\n1,100,100,200\n9,100,100,200\n1,5000,x,-3',
      ppfd,
    );
    if (answer.ok) throw new Error('the table was taken');
    expect(answer.problems).toEqual([
      'Line 3, shelf: found 9; the number of a shelf (1, 2, 3) is expected.',
      'Line 4, value: found -3; a reading of 0 or more is expected.',
      'Line 4, x: found 5000; a place on shelf 1 from 0 to 1200 mm is expected.',
      'Line 4, y: found x; a place on shelf 1 from 0 to 600 mm is expected.',
    ]);
    expect(readReadings(basil, 'pot,lux\n1A-A1,9000', ppfd).ok).toBe(false);
    expect(readReadings(basil, 'where,what\n1,2', ppfd).ok).toBe(false);
  });
});

describe('an output in lumens', () => {
  it('carries the range of its factor to every pot, in inverse proportion', () => {
    const plan = samplePlan();
    const [kind] = plan.rack.lampKinds;
    if (!kind) throw new Error('no lamp kind');
    const output = { kind: 'lumens', lumens: 4000, lumensPerUmolS: 70, lowest: 62, highest: 76 };
    const ranged = planSchema.parse({
      ...plan,
      rack: { ...plan.rack, lampKinds: [{ ...kind, output }] },
    });
    const intervals = lightIntervalsOf(ranged);
    const { pots } = potLightOf(ranged);
    expect(intervals.size).toBe(pots.size);
    for (const [id, { lowest, highest }] of intervals) {
      const value = pots.get(id)?.ppfdUmol ?? 0;
      expect(lowest / value).toBeCloseTo(70 / 76, 9);
      expect(highest / value).toBeCloseTo(70 / 62, 9);
    }
    expect(lightIntervalsOf(plan).size).toBe(0);
  });
});

describe('groups of pots', () => {
  it('treatments share out the light of the measured pots', () => {
    const groups = lightGroupsOf(basil, 'treatment');
    const { pots } = potLightOf(basil);
    const measured = potsOf(basil).filter((pot) => !pot.guard);
    const total = measured.reduce((sum, pot) => sum + (pots.get(pot.id)?.ppfdUmol ?? 0), 0);
    expect(groups).toHaveLength(12);
    expect(groups.reduce((n, group) => n + group.evenness.n, 0)).toBe(measured.length);
    const shared = groups.reduce((sum, { evenness }) => sum + evenness.n * evenness.mean, 0);
    expect(shared).toBeCloseTo(total, 6);
  });

  it('get more light at harvest than at planting, nearer to the lamps', () => {
    const rows = twoHeightsOf(basil);
    expect(rows).toHaveLength(3);
    for (const { planting, harvest } of rows) {
      expect([planting.heightMm, harvest.heightMm]).toEqual([110, 260]);
      expect(harvest.evenness.mean).toBeGreaterThan(planting.evenness.mean);
    }
  });
});

describe('pictures', () => {
  it('need no more work once the worker’s fields are kept, and equal what is computed here', () => {
    const plan = planSchema.parse(structuredClone(basil));
    expect(shelvesToPicture(plan)).toHaveLength(3);
    const { rack, light } = plan;
    const told: number[] = [];
    const fields = jobs.lightFields(
      { rack, light, shelfIds: rack.shelves.map((shelf) => shelf.id) },
      (done) => told.push(done),
    );
    keepFields(plan, fields);
    expect(told).toEqual([1, 2, 3]);
    expect(shelvesToPicture(plan)).toEqual([]);
    const [shelf] = rack.shelves;
    const [other] = basil.rack.shelves;
    if (!shelf || !other) throw new Error('no shelf');
    expect(fieldOf(plan, shelf)?.field.ppfd).toEqual(fieldOf(basil, other)?.field.ppfd);
  });

  it('show less where direct light alone is counted', () => {
    const [shelf] = basil.rack.shelves;
    if (!shelf) throw new Error('no shelf');
    const direct = fieldOf(basil, shelf, directLight(basil))?.field.ppfd ?? new Float64Array();
    const all = fieldOf(basil, shelf, 'reflected')?.field.ppfd ?? new Float64Array();
    expect(direct.length).toBeGreaterThan(0);
    expect(direct.every((value, i) => value < (all[i] ?? 0))).toBe(true);
  });
});

describe('sides', () => {
  it('that reflect give more light than open ones', () => {
    const [shelf] = basil.rack.shelves;
    if (!shelf) throw new Error('no shelf');
    const found = jobs.lightSides(
      { shelf, lampKinds: basil.rack.lampKinds, light: basil.light },
      () => undefined,
    );
    const mean = (key: string) => found.find((r) => r.key === key)?.evenness?.mean ?? NaN;
    expect(mean('open')).toBeLessThan(mean('now'));
    expect(mean('now')).toBeLessThan(mean('white'));
  });
});

describe('notices of the light', () => {
  it('speak of lengths in the plan’s unit', () => {
    const bright = { ...basil.light, targetPpfdUmol: { lowest: 900, highest: 950 } };
    const textIn = (lengths: Plan['display']['lengths']) =>
      noticesOf({ ...basil, light: bright, display: { lengths } })
        .filter((notice) => notice.kind === 'light-too-low')
        .map((notice) => notice.text);
    // Canopy 110 mm at planting and 260 mm at harvest: 185 mm midway, 7.28 in.
    expect(textIn('metric').every((text) => text.includes(' at 185 mm (estimated)'))).toBe(true);
    expect(textIn('imperial').every((text) => text.includes(' at 7.28 in (estimated)'))).toBe(true);
    expect(textIn('imperial').length).toBeGreaterThan(0);
  });
});

describe('a rota', () => {
  const undated = (plan: Plan, rota: Plan['light']['rota']): Plan => ({
    ...plan,
    light: { ...plan.light, ...(rota ? { rota } : {}) },
    trial: plan.trial && { ...plan.trial, startDate: null, harvestDate: null },
  });
  const overTrial = (plan: Plan) => {
    const found = lightOverTrialOf(plan);
    if (!found?.ok) throw new Error(found ? found.reason : 'no rota');
    return found.value;
  };

  it('lasts until its last day, or as the trial is dated: moves after its end are left out', () => {
    expect(lightOverTrialOf(basil)).toBeNull();
    // Plants that do not grow, so that the days alone count.
    const canopy = { plantingMm: 185, harvestMm: 185 };
    const shelves = basil.rack.shelves.map((shelf) => ({ ...shelf, canopy }));
    const level = { ...basil, rack: { ...basil.rack, shelves } };
    const rota = regularRota(basil.rack, 28, 14, 'next');
    const plan = undated(level, rota);
    expect(overTrial(plan).days).toBe(28);
    const pot = potsOf(basil)[0]?.id ?? '';
    const still = potLightOf(level).pots.get(pot)?.ppfdUmol ?? NaN;
    const half = overTrial(plan).pots.get(pot)?.ppfdUmol ?? NaN;
    const dated = (harvestDate: string): Plan => ({
      ...plan,
      trial: plan.trial && { ...plan.trial, startDate: '2026-03-01', harvestDate },
    });
    // 14 of 21 days as drawn; the other place is half of 28 days: (14 · still + 7 · other) / 21.
    const other = 2 * half - still;
    expect(overTrial(dated('2026-03-22')).days).toBe(21);
    expect(overTrial(dated('2026-03-22')).pots.get(pot)?.ppfdUmol).toBeCloseTo(
      (14 * still + 7 * other) / 21,
      9,
    );
    // Ended before the first move; and going on after the last, as drawn again.
    expect(overTrial(dated('2026-03-11')).pots.get(pot)?.ppfdUmol).toBeCloseTo(still, 9);
    expect(overTrial(dated('2026-04-26')).pots.get(pot)?.ppfdUmol).toBeCloseTo(
      (42 * still + 14 * other) / 56,
      9,
    );
  });

  it('changes no figure of the light as drawn, not even by computing it again', () => {
    const moved = {
      ...basil,
      light: { ...basil.light, rota: regularRota(basil.rack, 9, 3, 'next') },
    };
    expect(potLightOf(moved)).toBe(potLightOf(basil));
  });

  it('that brings every tray to every place for as long makes like holes alike', () => {
    const days = 3;
    const rota = regularRota(basil.rack, days, 1, 'next');
    expect(rota.map(({ fromDay, toDay }) => [fromDay, toDay])).toEqual([
      [2, 2],
      [3, 3],
    ]);
    const found = overTrial(undated(basil, rota));
    const at = (code: string) => {
      const pot = potsOf(basil).find((p) => p.code === code);
      return found.pots.get(pot?.id ?? '')?.ppfdUmol ?? NaN;
    };
    expect(at('1B-A1')).toBeCloseTo(at('1A-A1'), 9);
    expect(at('1C-A1')).toBeCloseTo(at('1A-A1'), 9);
  });

  it('that turns trays every other period makes opposite holes alike', () => {
    const days = 4;
    const found = overTrial(undated(basil, regularRota(basil.rack, days, 2, 'turn')));
    const pots = potsOf(basil).filter((pot) => pot.code.startsWith('1A-'));
    const rows = Math.max(...pots.map((pot) => pot.row));
    const columns = Math.max(...pots.map((pot) => pot.column));
    for (const pot of pots) {
      const opposite = pots.find(
        (p) => p.row === rows + 1 - pot.row && p.column === columns + 1 - pot.column,
      );
      expect(found.pots.get(pot.id)?.ppfdUmol).toBeCloseTo(
        found.pots.get(opposite?.id ?? '')?.ppfdUmol ?? NaN,
        6,
      );
    }
  });
});

describe('days of a trial', () => {
  const days = (startDate: string | null, harvestDate: string | null) =>
    trialDaysOf({ trial: basil.trial && { ...basil.trial, startDate, harvestDate } });

  it('are counted over months and leap years as the calendar has them', () => {
    for (const [from, to] of [
      ['2026-03-02', '2026-04-06'],
      ['2024-02-28', '2024-03-01'],
      ['2025-12-31', '2026-01-01'],
      ['1999-12-01', '2100-03-01'],
    ] as const) {
      const expected = (Date.parse(to) - Date.parse(from)) / 86_400_000;
      expect(days(from, to), `${from} to ${to}`).toBe(expected);
    }
    expect(days('2026-03-02', null)).toBeNull();
    expect(days('2026-03-02', '2026-03-01')).toBeNull();
  });
});

describe('a polar diagram', () => {
  it('of a cosine distribution follows the cosine on both sides and is dark above', () => {
    const angles = Array.from({ length: 91 }, (_, i) => i);
    const candela = angles.map((a) => Math.max(0, 500 * Math.cos((a * Math.PI) / 180)));
    const text = [
      'IESNA:LM-63-2002',
      'TILT=NONE',
      '1 -1 1 91 1 1 2 0 0 0 1 1 20',
      angles.join(' '),
      '0',
      candela.map((value) => value.toFixed(6)).join('\n'),
    ].join('\n');
    const answer = lampFileOf(text);
    if (!answer.ok) throw new Error(answer.reason);
    const [curve, ...more] = polarCurvesOf(answer.photometry, 10);
    expect(more).toEqual([]);
    for (const { angleDeg, candela: found } of curve?.points ?? []) {
      const expected = 500 * Math.max(0, Math.cos((angleDeg * Math.PI) / 180));
      expect(found).toBeCloseTo(expected, 4);
    }
    expect(curve?.points).toHaveLength(37);
  });
});
