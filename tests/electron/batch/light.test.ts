import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { lightVerb } from '../../../electron/batch/verbs/light';
import { emptyPlan, newGrid, newTrial } from '../../../renderer/document/new';
import { lightStamp } from '../../../renderer/engine/lamps';
import type { LightReading } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import { kind, lamp, lightPlan, shelf, tray } from '../../engine/light/racks';
import { tempFolder } from '../temp-folder';

interface Figures {
  pots: number;
  mean: number | null;
  min: number | null;
  max: number | null;
  min_to_mean: number | null;
  min_to_max: number | null;
  cv_percent: number | null;
  share_within_10_percent: number | null;
}
type Ranged = Figures & {
  source: string;
  mean_lowest: number | null;
  mean_highest: number | null;
  without_guards: Figures | null;
};
interface Fitted {
  shelf: number;
  factors: { group: string; factor: number }[];
  groups_told_apart: boolean;
  surface: string;
  readings_used: number;
  rms_percent: number;
  left_out_error_percent: number | null;
  readings: {
    reading: string;
    measured: number;
    estimated: number;
    calibrated: number | null;
    off_percent: number | null;
    outlier: boolean;
    unusable: string | null;
  }[];
}
interface Answer {
  pots: {
    pot: string;
    shelf: number;
    tray: string;
    x_mm: number;
    y_mm: number;
    ppfd_umol_m2_s: number;
    dli_mol_m2_d: number;
    source: string;
    ppfd_lowest: number | null;
    ppfd_highest: number | null;
  }[];
  shelves: (Ranged & { shelf: number; height_mm: number; plus_minus_percent: number | null })[];
  trays: (Ranged & { tray: string })[];
  blocks: (Ranged & { block: string })[];
  treatments: (Ranged & { treatment: string })[];
  calibration: Fitted[];
  withheld: (Fitted & { reason: string })[];
  overTrial: {
    days: number;
    as_drawn: Figures;
    with_rota: Figures;
    pots: {
      pot: string;
      ppfd_umol_m2_s: number;
      dli_mol_m2_d: number;
      ppfd_lowest: number;
      ppfd_highest: number;
    }[];
  } | null;
  energy: {
    days: number;
    power_w: number;
    kwh_per_day: number;
    kwh_total: number;
    cost_per_day: number | null;
    cost_total: number | null;
    currency: string;
    shelves: {
      shelf: number;
      kwh_per_day: number;
      mol_per_day: number | null;
      mol_per_kwh: number | null;
      share_on_trays: number | null;
      share_on_pots: number | null;
    }[];
  };
  problems: Record<string, string>;
}

async function runText(text: string, ...options: string[]) {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, text);
  let [out, err] = ['', ''];
  const code = await runBatch(['light', path, ...options], [lightVerb], {
    out: (words) => void (out += words),
    err: (words) => void (err += words),
  });
  return { code, out, err };
}
const run = (plan: unknown, ...options: string[]) => runText(JSON.stringify(plan), ...options);

async function answerOf(plan: Plan): Promise<Answer> {
  const { code, out, err } = await run(plan);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  expect(out).not.toMatch(/NaN|Infinity/);
  return JSON.parse(out) as Answer;
}

/** A plan of these shelves; ids of shelves, trays and lamps are made unique by the shelf's number. */
function planOf(shelves: Shelf[], kinds: LampKind[], change: Partial<Plan['light']> = {}): Plan {
  return {
    ...emptyPlan('light without a window'),
    nextId: 1000,
    rack: {
      lampKinds: kinds,
      shelves: shelves.map((one) => ({
        ...one,
        id: `s${one.number}`,
        trays: one.trays.map((t, i) => ({ ...t, id: `t${100 + 10 * one.number + i}` })),
        lamps: one.lamps.map((l, i) => ({ ...l, id: `l${500 + 10 * one.number + i}` })),
      })),
    },
    light: lightPlan(change),
  };
}

/**
 * Light of a level flat strip on a level receiver h below it, by Simpson's rule over elements that
 * each send I cos γ (inverse square and cosine laws): Φ/(πL) h² ∫ dx / (h² + d² + (x − x₀)²)².
 */
function stripPpfd(flux: number, lengthMm: number, h: number, along: number, across: number) {
  const n = 2000;
  let sum = 0;
  for (let i = 0; i <= n; i++) {
    const x = -lengthMm / 2 + (i * lengthMm) / n;
    const weight = i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight / (h * h + across * across + (x - along) ** 2) ** 2;
  }
  return (1e6 * flux * h * h * sum * (lengthMm / n / 3)) / (Math.PI * lengthMm);
}

/** The figures of evenness by their definitions. */
function evennessBy(values: number[]): Figures {
  const n = values.length;
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const [min, max] = [Math.min(...values), Math.max(...values)];
  const s = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (n - 1));
  return {
    pots: n,
    mean,
    min,
    max,
    min_to_mean: min / mean,
    min_to_max: min / max,
    cv_percent: (100 * s) / mean,
    share_within_10_percent: values.filter((v) => Math.abs(v / mean - 1) <= 0.1).length / n,
  };
}

function expectFigures(found: Figures | undefined, wanted: Figures): void {
  for (const [name, value] of Object.entries(wanted) as [keyof Figures, number][]) {
    expect(found?.[name], name).toBeCloseTo(value, 6);
  }
}

/** 2800 lm at 70 lm per µmol/s, which may be 62 to 76: 40 µmol/s, 36.84 to 45.16. */
const lumens = kind({
  output: { kind: 'lumens', lumens: 2800, lumensPerUmolS: 70, lowest: 62, highest: 76 },
});
const HEIGHT = 120;
const strips = [150, 450].map((yMm) => lamp({ yMm, zMm: 380, dimming: 0.5 }));
const potPlaces = [0, 1, 2].flatMap((row) =>
  [0, 1, 2, 3, 4, 5].map((column) => ({ row, column, x: 100 + 200 * column, y: 100 + 200 * row })),
);
const wanted = potPlaces.map(({ x, y }) =>
  [150, 450].reduce((sum, at) => sum + stripPpfd(20, 1200, 380 - HEIGHT, x - 600, y - at), 0),
);
const bare = shelf({
  canopy: { plantingMm: HEIGHT, harvestMm: 250 },
  trays: [tray()],
  lamps: strips,
});

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

  it('as a table has the eight columns and one row a pot', async () => {
    const { code, out } = await run(planOf([bare], [lumens]), '--csv');
    expect(code).toBe(0);
    const [head, ...rows] = out.trimEnd().split('\n');
    expect(head).toBe('pot,shelf,tray,x_mm,y_mm,ppfd_umol_m2_s,dli_mol_m2_d,source');
    expect(rows).toHaveLength(18);
    const [first = ''] = rows;
    const cells = first.split(',');
    expect(cells.slice(0, 5)).toEqual(['1A-A1', '1', '1A', '100', '100']);
    expect(Number(cells[5])).toBeCloseTo(wanted[0] ?? NaN, 5);
    expect(cells[7]).toBe('estimated');
    const none = await run(planOf([], []), '--csv');
    expect(none.out).toBe('pot,shelf,tray,x_mm,y_mm,ppfd_umol_m2_s,dli_mol_m2_d,source\n');
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

describe('light from the shell: meter readings', () => {
  const places = [100, 350, 600, 850, 1100].flatMap((x) => [100, 300, 500].map((y) => ({ x, y })));
  const at = (x: number, y: number) =>
    [150, 450].reduce((sum, lampY) => sum + stripPpfd(20, 1200, 260, x - 600, y - lampY), 0);
  const reading = (i: number, change: Partial<LightReading> = {}): LightReading => {
    const { x, y } = places[i] ?? { x: 0, y: 0 };
    return {
      id: `r${900 + i}`,
      shelfId: 's1',
      xMm: x,
      yMm: y,
      zMm: HEIGHT,
      value: 0.8 * at(x, y),
      unit: 'ppfd',
      luxPerPpfd: null,
      date: '2026-02-03',
      note: '',
      ...change,
    };
  };

  it('turn the estimate into calibrated figures, and leave a wild one out', async () => {
    const readings = places.map((_, i) => reading(i));
    // One in lux at 70 to the PPFD, and one misread by half.
    const lux = readings[1];
    if (lux) Object.assign(lux, { unit: 'lux', luxPerPpfd: 70, value: lux.value * 70 });
    const wild = readings[7];
    if (wild) wild.value *= 1.5;
    const found = await answerOf(planOf([bare], [lumens], { readings }));
    found.pots.forEach((pot, i) => {
      expect(pot.source).toBe('calibrated');
      expect(pot.ppfd_umol_m2_s).toBeCloseTo(0.8 * (wanted[i] ?? NaN), 5);
      // Readings settle the factor of the lumens.
      expect(pot).toMatchObject({ ppfd_lowest: null, ppfd_highest: null });
    });
    expect(found.shelves[0]).toMatchObject({ source: 'calibrated', mean_lowest: null });
    expect(found.trays[0]?.source).toBe('calibrated');
    const [fit] = found.calibration;
    expect(fit).toMatchObject({ shelf: 1, surface: 'none', readings_used: 14 });
    expect(fit?.factors).toHaveLength(1);
    expect(fit?.factors[0]).toMatchObject({ group: 'A' });
    expect(fit?.factors[0]?.factor).toBeCloseTo(0.8, 6);
    expect(fit?.left_out_error_percent).toBeCloseTo(0, 4);
    expect(fit?.rms_percent).toBeCloseTo(0, 4);
    expect(fit?.readings.map((r) => r.outlier).indexOf(true)).toBe(7);
    expect(fit?.readings.filter((r) => r.outlier)).toHaveLength(1);
    expect(fit?.readings[7]?.off_percent).toBeCloseTo(50, 3);
    expect(fit?.readings[1]?.measured).toBeCloseTo(0.8 * at(100, 300), 6);
    expect(fit?.readings[1]?.estimated).toBeCloseTo(at(100, 300), 5);
    expect(fit?.readings.every((r) => r.unusable === null)).toBe(true);
  });

  it('too strange to be believed are withheld, and listed with the reason', async () => {
    // A slip of ten throughout.
    const readings = places.map((_, i) =>
      reading(i, { value: 8 * at(places[i]?.x ?? 0, places[i]?.y ?? 0) }),
    );
    const found = await answerOf(planOf([bare], [lumens], { readings }));
    expect(found.shelves[0]?.source).toBe('estimated');
    expect(found.calibration).toEqual([]);
    expect(found.withheld).toEqual([
      expect.objectContaining({
        shelf: 1,
        readings_used: 15,
        reason:
          'The readings of shelf 1 put its lamps at 8 times their figures; 0.5 to 1.5 times is ' +
          'usual. Its light stays estimated until this is settled.',
      }),
    ]);
    expect(found.withheld[0]?.factors[0]?.factor).toBeCloseTo(8, 6);
    const sound = await answerOf(planOf([bare], [lumens], { readings: [reading(0), reading(4)] }));
    expect([sound.withheld, sound.calibration.length]).toEqual([[], 1]);
  });

  it('on one shelf leave the other estimated', async () => {
    const plan = planOf([bare, { ...bare, number: 2 }], [lumens], {
      readings: [reading(0), reading(4), reading(11)],
    });
    const { shelves, pots } = await answerOf(plan);
    expect(shelves.map((row) => row.source)).toEqual(['calibrated', 'estimated']);
    expect(pots.filter((pot) => pot.source === 'calibrated')).toHaveLength(18);
    expect(pots[18]?.ppfd_umol_m2_s).toBeCloseTo(wanted[0] ?? NaN, 5);
  });

  it('of 0 throughout tell nothing of the lamps: the shelf stays estimated', async () => {
    const readings = places.map((_, i) => reading(i, { value: 0 }));
    const { pots, shelves } = await answerOf(planOf([bare], [lumens], { readings }));
    const bareFigures = await answerOf(planOf([bare], [lumens]));
    expect(shelves[0]?.source).toBe('estimated');
    expect(pots).toEqual(bareFigures.pots);
  });

  it('hold for the lamps that they were taken of: else the shelf is estimated', async () => {
    const plan = planOf([bare], [lumens]);
    const [stood] = plan.rack.shelves;
    if (!stood) throw new Error('no shelf');
    const of = lightStamp(stood, [lumens]);
    const readings = places.map((_, i) => reading(i, { of }));
    const metered = planOf([bare], [lumens], { readings });
    const still = await answerOf(metered);
    expect(still.shelves[0]?.source).toBe('calibrated');
    // Half the light, read before it was dimmed: the readings would have doubled it again.
    const dimmed = bare.lamps.map((l) => ({ ...l, dimming: l.dimming / 2 }));
    const changed = planOf([{ ...bare, lamps: dimmed }], [lumens], { readings });
    const { pots, shelves, calibration } = await answerOf(changed);
    expect(shelves[0]?.source).toBe('estimated');
    expect(calibration).toEqual([]);
    pots.forEach((pot, i) => {
      expect(pot.source).toBe('estimated');
      expect(pot.ppfd_umol_m2_s).toBeCloseTo((wanted[i] ?? NaN) / 2, 5);
      expect(pot.ppfd_lowest).not.toBeNull();
    });
    // Read again in one place, that one counts alone; the others say why they do not.
    const again = reading(0, { id: 'r990', value: 0.4 * at(100, 100) });
    const { calibration: one } = await answerOf(
      planOf([{ ...bare, lamps: dimmed }], [lumens], { readings: [...readings, again] }),
    );
    expect(one[0]?.readings_used).toBe(1);
    expect(one[0]?.factors[0]?.factor).toBeCloseTo(0.8, 6);
    expect(one[0]?.readings[0]?.unusable).toContain('before');
  });

  it('where no lamp shines are unusable and say so', async () => {
    const readings = [reading(0, { zMm: 400 }), reading(1), reading(2), reading(3)];
    const { calibration } = await answerOf(planOf([bare], [lumens], { readings }));
    expect(calibration[0]?.readings[0]?.unusable).toContain('no lamp shines');
    expect(calibration[0]?.readings_used).toBe(3);
  });
});

describe('light from the shell: a lamp with a photometric file', () => {
  // 600 cd along the lamp and 1200 cd across, the same from straight down to level: with straight
  // lines between the planes ∫ I dω = 2π · 900 lm.
  const text = [
    'IESNA:LM-63-2002',
    'TILT=NONE',
    '1 -1 1 3 2 1 2 0 0 0',
    '1 1 20',
    '0 45 90',
    '0 90',
    '600 600 600',
    '1200 1200 1200',
  ].join('\n');
  const measured = kind({
    shape: 'spot',
    lengthMm: 0,
    emission: { kind: 'file', fileName: 'two-planes.ies', text },
    output: { kind: 'photons', fluxUmolS: 50 },
  });
  const H = 300;
  const TILT = 20;
  /** µmol s⁻¹ sr⁻¹ in the plane along the lamp and in the one across. */
  const along = (50 * 600) / (2 * Math.PI * 900);
  const across = 2 * along;
  /** E = I cos θ / d² on a level receiver H below the lamp. */
  const from = (intensity: number, dx: number, dy: number) =>
    (1e6 * intensity * H) / (dx * dx + dy * dy + H * H) ** 1.5;
  const row = (xMm: number, yMm: number, rows: number, columns: number) =>
    tray({
      xMm: xMm - 20,
      yMm: yMm - 20,
      widthMm: 40,
      depthMm: 40,
      grid: {
        ...newGrid({ widthMm: 40, depthMm: 40 }),
        rows,
        columns,
        pitchXMm: 120,
        pitchYMm: 120,
        potDiameterMm: 30,
        firstXMm: 20,
        firstYMm: 20,
      },
    });

  it('turned a quarter: along the lamp is from front to back', async () => {
    const hung = lamp({ xMm: 600, yMm: 300, zMm: H, rotationDeg: 90 });
    const trays = [row(600, 180, 3, 1), { ...row(480, 300, 1, 3), letter: 'B' }];
    const { pots } = await answerOf(planOf([shelf({ trays, lamps: [hung] })], [measured]));
    expect(pots.map((pot) => pot.pot)).toEqual([
      '1A-A1',
      '1A-B1',
      '1A-C1',
      '1B-A1',
      '1B-A2',
      '1B-A3',
    ]);
    expect(pots[0]?.ppfd_umol_m2_s).toBeCloseTo(from(along, 0, -120), 6);
    expect(pots[2]?.ppfd_umol_m2_s).toBeCloseTo(from(along, 0, 120), 6);
    expect(pots[3]?.ppfd_umol_m2_s).toBeCloseTo(from(across, -120, 0), 6);
    expect(pots[5]?.ppfd_umol_m2_s).toBeCloseTo(from(across, 120, 0), 6);
  });

  it('and tipped: it faces left, so its plane along the lamp meets the canopy farther left', async () => {
    const hung = lamp({ xMm: 600, yMm: 300, zMm: H, rotationDeg: 90, tiltDeg: TILT });
    const left = H * Math.tan((TILT * Math.PI) / 180);
    const trays = [row(600 - left, 180, 3, 1)];
    const { pots } = await answerOf(planOf([shelf({ trays, lamps: [hung] })], [measured]));
    expect(pots[0]?.ppfd_umol_m2_s).toBeCloseTo(from(along, left, -120), 6);
    expect(pots[2]?.ppfd_umol_m2_s).toBeCloseTo(from(along, left, 120), 6);
  });

  it('that cannot be read stops its shelf alone: named in JSON, refused as a table', async () => {
    const emission = {
      kind: 'file',
      fileName: 'torn.ies',
      text: 'IESNA91\nTILT=NONE\n1 x',
    } as const;
    const torn = kind({ id: 'k2', name: 'torn', emission });
    const dark = { ...bare, number: 2, lamps: [lamp({ kindId: 'k2' })] };
    const plan = planOf([bare, dark], [lumens, torn]);
    const found = await answerOf(plan);
    expect(found.pots).toHaveLength(18);
    expect(found.shelves.map((row) => row.shelf)).toEqual([1]);
    expect(Object.keys(found.problems)).toEqual(['shelf 2']);
    expect(found.problems['shelf 2']).toMatch(/torn\.ies, line 3: .*found “x”; expected/);
    // What the lamps draw is known still; what becomes of their photons is not.
    expect(found.energy.power_w).toBe(20 + 20);
    expect(found.energy.shelves[1]).toMatchObject({
      kwh_per_day: 0.32,
      mol_per_day: null,
      mol_per_kwh: null,
      share_on_trays: null,
    });
    const { code, out, err } = await run(plan, '--csv');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(/^shelf 2: its light cannot be computed: .*torn\.ies, line 3/);
  });
});

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
            kind: 'assigned',
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
    const text = JSON.stringify(planOf([bare], [lumens])).replace('"zMm":380', '"zMm":NaN');
    const { code, err } = await runText(text);
    expect(code).toBe(2);
    expect(err).toMatch(/line 1, column \d+: found .*NaN/);
  });
});
