import { describe, expect, it } from 'vitest';
import type { LightReading } from '../../../shared-types/light';
import { calibrate, type Calibration } from '../../../renderer/engine/light/calibration';
import {
  regression,
  SINGLE_READING,
  type Sample,
} from '../../../renderer/engine/light/calibration/regression';
import { ppfdAtPoints, shelfField } from '../../../renderer/engine/light/field';
import { shelfModel } from '../../../renderer/engine/light/model';
import { lightNotices } from '../../../renderer/engine/light/notices';
import { potLight } from '../../../renderer/engine/light/potLight';
import { kind, lamp, lightPlan, shelf, tray } from './racks';

/** A repeatable stream of values of about mean 0 and deviation 1 (sum of twelve uniforms − 6). */
function noise(seed: number): () => number {
  let state = seed >>> 0;
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
  return () => Array.from({ length: 12 }, uniform).reduce((sum, u) => sum + u, -6);
}

const bay = shelf({
  lamps: [
    lamp({ id: 'l1', yMm: 120, group: 'A' }),
    lamp({ id: 'l2', yMm: 300, group: 'B' }),
    lamp({ id: 'l3', yMm: 480, group: 'A' }),
  ],
  trays: [tray()],
});
const kinds = [kind()];
const places = [150, 450, 750, 1050].flatMap((xMm) =>
  [90, 300, 510].map((yMm) => ({ xMm, yMm, zMm: 0 })),
);

function reading(change: Partial<LightReading>): LightReading {
  return {
    id: 'm1',
    shelfId: 's1',
    xMm: 600,
    yMm: 300,
    zMm: 0,
    value: 100,
    unit: 'ppfd',
    luxPerPpfd: null,
    date: null,
    note: '',
    ...change,
  };
}

/** What a meter would read over lamps that give other shares of their figures than stated. */
function readingsOf(
  scales: Record<string, number>,
  factor: (x: number, y: number, i: number) => number = () => 1,
): LightReading[] {
  const real = {
    ...bay,
    lamps: bay.lamps.map((l) => ({ ...l, dimming: l.dimming * (scales[l.group] ?? 1) })),
  };
  const truth = ppfdAtPoints(real, kinds, places);
  return places.map((place, i) =>
    reading({
      id: `m${i + 1}`,
      ...place,
      value: (truth[i] ?? 0) * factor(place.xMm, place.yMm, i),
    }),
  );
}

const model = shelfModel(bay, kinds, { heightMm: 0, reflected: true });
function calibrated(readings: readonly LightReading[]): Calibration {
  const found = calibrate(model, readings, bay);
  if (!found) throw new Error('a calibration is expected');
  return found;
}

/** Solves A x = b by Gauss and Jordan: an other way than the program's. */
function solvedByElimination(a: number[][], b: number[]): number[] {
  const rows = a.map((row, i) => [...row, b[i] ?? 0]);
  rows.forEach((_, k) => {
    const pivot = rows[k] ?? [];
    const size = pivot[k] ?? NaN;
    rows.forEach((row, i) => {
      if (i === k) return;
      const times = (row[k] ?? 0) / size;
      row.forEach((value, j) => (row[j] = value - times * (pivot[j] ?? 0)));
    });
  });
  return rows.map((row, k) => (row[b.length] ?? NaN) / (row[k] ?? NaN));
}

describe('Bayesian regression on the estimate', () => {
  const draw = noise(11);
  const samples = (n: number, value: (share: number) => number): Sample[] =>
    Array.from({ length: n }, (_, i) => {
      const share = 0.2 + (0.6 * i) / Math.max(1, n - 1);
      const [x, y] = [(i % 5) / 5, Math.floor(i / 5) / 10];
      return { x, y, shares: [share, 1 - share], value: value(share), dark: 0 };
    });

  it('is the ridge solution (Hoerl & Kennard 1970) of its own prior', () => {
    const some = samples(12, (share) => -0.3 + 0.4 * share + 0.03 * draw());
    const { scales, sizes } = regression(some, 0.06);
    expect(sizes.group).toBeGreaterThan(0);
    // Minimise Σ (v − c − Σ share·g)²/single² + c²/common² + Σ g²/group² over c and both groups.
    const design = some.map(({ shares }) => [1, ...shares]);
    const penalty = [sizes.common, sizes.group, sizes.group].map((sd) => 1 / sd ** 2);
    const normal = penalty.map((own, i) =>
      penalty.map(
        (_, j) =>
          design.reduce((sum, row) => sum + (row[i] ?? 0) * (row[j] ?? 0), 0) / sizes.single ** 2 +
          (i === j ? own : 0),
      ),
    );
    const right = penalty.map(
      (_, i) =>
        design.reduce((sum, row, k) => sum + (row[i] ?? 0) * (some[k]?.value ?? 0), 0) /
        sizes.single ** 2,
    );
    const [c = NaN, a = NaN, b = NaN] = solvedByElimination(normal, right);
    expect(scales[0]).toBeCloseTo(1 + c + a, 9);
    expect(scales[1]).toBeCloseTo(1 + c + b, 9);
  });

  it('left-out expectations are those of refits', () => {
    const some = samples(5, () => -0.1 + 0.05 * draw());
    const whole = regression(some, 0.06);
    some.forEach((sample, i) => {
      const rest = some.filter((_, j) => j !== i);
      const weights = regression(rest, 0.06).weightsAt(sample);
      const expected = rest.reduce((sum, { value }, j) => sum + value * (weights[j] ?? 0), 0);
      expect(whole.leftOut()[i]?.expected).toBeCloseTo(expected, 9);
    });
  });

  it('one reading moves the estimate by the share that its prior allows', () => {
    const [one] = samples(1, () => -0.3);
    if (!one) throw new Error('no sample');
    const { scales } = regression([one], 0.06);
    const moved = 1 - (0.3 * 0.06 ** 2) / (0.06 ** 2 + SINGLE_READING ** 2);
    expect(scales).toEqual([expect.closeTo(moved, 9), expect.closeTo(moved, 9)]);
  });

  it('of many readings is that of least squares', () => {
    const many = samples(200, (share) => -0.2 + 0.3 * share + 0.03 * draw());
    const { scales } = regression(many, 0.06);
    const [aa, ab, bb, av, bv] = many.reduce(
      ([p = 0, q = 0, r = 0, s = 0, t = 0], { shares: [a = 0, b = 0], value }) => [
        p + a * a,
        q + a * b,
        r + b * b,
        s + a * (1 + value),
        t + b * (1 + value),
      ],
      [0, 0, 0, 0, 0],
    );
    const [first = NaN, second = NaN] = solvedByElimination(
      [
        [aa ?? 0, ab ?? 0],
        [ab ?? 0, bb ?? 0],
      ],
      [av ?? 0, bv ?? 0],
    );
    expect(Math.abs((scales[0] ?? NaN) / first - 1)).toBeLessThan(0.01);
    expect(Math.abs((scales[1] ?? NaN) / second - 1)).toBeLessThan(0.01);
  });

  it('draws no surface through mere noise, nor through few readings, and lets it fade', () => {
    const even = samples(25, () => 0.03 * draw());
    expect(regression(even, 0.06).sizes.surface).toBe(0);
    const steep = (n: number) =>
      samples(n, () => 0).map((s) => ({ ...s, shares: [1], value: 0.4 * (s.x - 0.4) }));
    expect(regression(steep(5), 0.06).sizes.surface).toBe(0);
    const found = regression(steep(25), 0.06);
    expect(found.sizes.surface).toBeGreaterThan(0);
    const at = (x: number) => (found.scales[0] ?? NaN) + found.surfaceAt(x, 0.2);
    expect(at(0.7) - at(0.1)).toBeGreaterThan(0.2);
    expect(Math.abs(found.surfaceAt(4, 4))).toBeLessThan(1e-6);
  });
});

describe('calibration by readings', () => {
  it('finds the factor of each group within 0.1 % where readings are exact', () => {
    const found = calibrated(readingsOf({ A: 0.8, B: 0.95 }));
    expect(found.separate).toBe(true);
    expect(Math.abs((found.scales[0]?.scale ?? NaN) / 0.8 - 1)).toBeLessThan(1e-3);
    expect(Math.abs((found.scales[1]?.scale ?? NaN) / 0.95 - 1)).toBeLessThan(1e-3);
    expect(found.surface).toBe('none');
    expect(found.rmsPercent).toBeLessThan(0.1);
    expect(found.leftOutPercent ?? NaN).toBeLessThan(0.2);
  });

  it('a group that is off gets 0, never less', () => {
    const off = calibrated(readingsOf({ A: 0.8, B: 0 }));
    expect(off.scaleOf('B')).toBeCloseTo(0, 2);
    const draw = noise(5);
    const noisy = calibrated(readingsOf({ A: 0.8, B: 0 }, () => 1 + 0.05 * draw()));
    expect(noisy.scaleOf('B')).toBeGreaterThanOrEqual(0);
  });

  it('pots, field and their source follow the readings', () => {
    const readings = readingsOf({ A: 0.8, B: 0.95 });
    const rack = { shelves: [bay], lampKinds: kinds };
    const real = {
      ...bay,
      lamps: bay.lamps.map((l) => ({ ...l, dimming: l.group === 'A' ? 0.8 : 0.95 })),
    };
    const truth = potLight({ shelves: [real], lampKinds: kinds }, lightPlan());
    const found = potLight(rack, lightPlan({ readings }));
    for (const [id, pot] of found.pots) {
      expect(pot.source).toBe('calibrated');
      expect(pot.ppfdUmol / (truth.pots.get(id)?.ppfdUmol ?? NaN)).toBeCloseTo(1, 3);
    }
    expect(found.trays.get('t1')?.source).toBe('calibrated');
    const field = shelfField(bay, kinds, { heightMm: 0, gridMm: 200, readings });
    expect(field.source).toBe('calibrated');
    expect(field.ppfd[0]).toBeCloseTo(found.pots.get('t1:1:1')?.ppfdUmol ?? NaN, 9);
    // Readings of another shelf are nothing to this one.
    const other = readings.map((r) => ({ ...r, shelfId: 's9' }));
    expect(potLight(rack, lightPlan({ readings: other })).pots.get('t1:1:1')?.source).toBe(
      'estimated',
    );
  });

  it('lux by their own factor; lux without one, and readings in the dark, are named', () => {
    const lux = readingsOf({ A: 1, B: 1 }).map((r) => ({
      ...r,
      value: r.value * 70,
      unit: 'lux' as const,
      luxPerPpfd: 70,
    }));
    expect(calibrated(lux).scaleOf('A')).toBeCloseTo(1, 9);
    const bare = calibrated([...lux, { ...reading({ id: 'm50' }), unit: 'lux' }]);
    expect(bare.readings.at(-1)?.unusable).toBe('in lux without a conversion factor');
    expect(bare.used).toBe(12);
    const dark = calibrated([...lux, reading({ id: 'm51', zMm: 400 })]);
    expect(dark.readings.at(-1)?.unusable).toBe('taken where no lamp shines');
    expect(calibrate(model, [reading({ zMm: 400 })], bay)).toBeNull();
  });

  it('readings that are all 0 tell nothing of the lamps', () => {
    const dark = readingsOf({ A: 1, B: 1 }).map((r) => ({ ...r, value: 0 }));
    const light = potLight({ shelves: [bay], lampKinds: kinds }, lightPlan({ readings: dark }));
    expect(light.trays.get('t1')?.evenness?.max).toBeGreaterThan(0);
    expect(light.trays.get('t1')?.source).toBe('estimated');
  });

  it('one reading scales all lamps alike, and less than it says', () => {
    const [first] = readingsOf({ A: 0.7, B: 0.7 });
    const found = calibrated(first ? [first] : []);
    expect(found.separate).toBe(false);
    expect(found.scaleOf('A')).toBeGreaterThan(0.72);
    expect(found.scaleOf('A')).toBeLessThan(0.8);
    expect(found.scaleOf('B')).toBe(found.scaleOf('A'));
    expect(found.leftOutPercent).toBeNull();
  });

  it('more readings that say the same are followed ever closer', () => {
    const readings = readingsOf({ A: 0.8, B: 0.8 }, (_x, _y, i) => 1 + 0.03 * (i % 2 ? 1 : -1));
    const scales = [1, 2, 4, 12].map((n) => calibrated(readings.slice(0, n)).scaleOf('A'));
    scales.slice(1).forEach((scale, i) => expect(scale).toBeLessThan((scales[i] ?? NaN) + 0.01));
    expect(Math.abs((scales[3] ?? NaN) - 0.8)).toBeLessThan(0.01);
  });

  it('a slope over the shelf, as from a wall nobody drew, is taken up by a surface', () => {
    const slope = (x: number) => 1 + 0.3 * (x / 1200 - 0.5);
    const draw = noise(8);
    const readings = readingsOf({ A: 0.9, B: 0.9 }, (x) => slope(x) * (1 + 0.01 * draw()));
    const found = calibrated(readings);
    expect(found.surface).not.toBe('none');
    expect(found.leftOutPercent ?? NaN).toBeLessThan(4);
    const real = ppfdAtPoints(bay, kinds, [{ xMm: 900, yMm: 200, zMm: 0 }])[0] ?? NaN;
    const at = ppfdAtPoints(bay, kinds, [{ xMm: 900, yMm: 200, zMm: 0 }], { readings })[0] ?? NaN;
    expect(Math.abs(at / (0.9 * real * slope(900)) - 1)).toBeLessThan(0.03);
  });
});

describe('outlying readings', () => {
  it.each([
    [0, 2],
    [5, 1.5],
    [7, 0.4],
    [11, 10],
    [3, 0],
  ])('reading %d times %d is named, left out and reported', (index, times) => {
    const draw = noise(index + 1);
    const readings = readingsOf(
      { A: 0.8, B: 0.95 },
      (_x, _y, i) => (i === index ? times : 1) * (1 + 0.02 * draw()),
    );
    const found = calibrated(readings);
    const left = found.readings.filter((r) => r.outlier || r.unusable !== null);
    expect(left.map((r) => r.readingId)).toEqual([`m${index + 1}`]);
    // Neighbouring groups trade light against each other; what counts is their sum.
    const middle = [{ xMm: 600, yMm: 300, zMm: 0 }];
    const [truth = NaN] = model.at(middle, (group) => (group === 'A' ? 0.8 : 0.95));
    const [at = NaN] = ppfdAtPoints(bay, kinds, middle, { readings });
    expect(Math.abs(at / truth - 1)).toBeLessThan(0.03);
    const notices = lightNotices({
      rack: { shelves: [bay], lampKinds: kinds },
      light: lightPlan({ lowestMinToMean: 0.5, readings }),
    });
    expect(notices.map((n) => n.kind)).toEqual(['reading-outlier']);
    expect(notices[0]?.about).toEqual([`reading:m${index + 1}`, 'shelf:s1']);
    const said = times === 0 ? 'a 0' : times === 10 ? 'times the estimate' : 'µmol m⁻² s⁻¹';
    expect(notices[0]?.text).toContain(said);
  });

  it('several that slip alike are one notice; the sound ones calibrate', () => {
    const some = readingsOf({ A: 1, B: 1 }, (_x, _y, i) => ([2, 5, 9].includes(i) ? 70 : 1));
    const notices = lightNotices({
      rack: { shelves: [bay], lampKinds: kinds },
      light: lightPlan({ lowestMinToMean: 0.5, readings: some }),
    });
    expect(notices.map((n) => n.kind)).toEqual(['reading-outlier']);
    expect(notices[0]?.text).toContain(
      '3 readings of shelf 1 are about 70 times the estimate; the other 9',
    );
    expect(notices[0]?.remedy).toContain('look like lux typed as PPFD');
    expect(calibrated(some).scaleOf('A')).toBeCloseTo(1, 3);
  });

  it('sound readings with 5 % of noise, and with a slope besides, are left alone', () => {
    let cries = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const draw = noise(seed);
      const sloping = seed % 2 === 0 ? 0.3 : 0;
      const readings = readingsOf(
        { A: 0.9, B: 1 },
        (x) => (1 + sloping * (x / 1200 - 0.5)) * (1 + 0.05 * draw()),
      );
      if (calibrated(readings).readings.some((r) => r.outlier)) cries++;
    }
    expect(cries).toBe(0);
  });
});

describe('the uncertainty that is stated', () => {
  const uncertaintyWith = (readings: LightReading[], lamps = kinds) =>
    potLight({ shelves: [bay], lampKinds: lamps }, lightPlan({ readings })).shelves.get('s1')
      ?.uncertainty;

  it('of an estimate names output, height and their sizes', () => {
    const uncertainty = uncertaintyWith([]);
    expect(uncertainty?.reason('metric')).toContain('lamp output ±10 %, 10 mm of hanging height');
    expect(uncertainty?.reason('imperial')).toContain('0.39 in of hanging height');
    expect(uncertainty?.plusMinusPercent ?? NaN).toBeGreaterThan(10);
    const output = {
      kind: 'lumens',
      lumens: 2800,
      lumensPerUmolS: 70,
      lowest: 56,
      highest: 77,
    } as const;
    // 70/56 − 1 = 25 % is the wider side of the range.
    expect(uncertaintyWith([], [kind({ output })])?.reason('metric')).toContain(
      'lamp output ±25 %',
    );
  });

  it('shrinks with readings, and names what they share', () => {
    const draw = noise(4);
    const readings = readingsOf({ A: 1, B: 1 }, () => 1 + 0.02 * draw());
    const percent = (n: number) => uncertaintyWith(readings.slice(0, n))?.plusMinusPercent ?? NaN;
    expect(percent(1)).toBeLessThan(percent(0));
    expect(percent(12)).toBeLessThan(percent(1));
    // A meter is good for ±5 %, however often it is read.
    expect(percent(12)).toBeGreaterThan(5);
    expect(uncertaintyWith(readings)?.reason('metric')).toContain('the meter’s own error ±5.4 %');
  });

  it('of readings in lux never falls below that of the conversion', () => {
    const lux = (range?: { lowest: number; highest: number }) =>
      readingsOf({ A: 1, B: 1 }).map((r) => ({
        ...r,
        value: r.value * 70,
        unit: 'lux' as const,
        luxPerPpfd: 70,
        ...(range && { luxRange: range }),
      }));
    const percent = (readings: LightReading[]) =>
      uncertaintyWith(readings)?.plusMinusPercent ?? NaN;
    const wide = percent(lux({ lowest: 62, highest: 78 }));
    expect(wide).toBeGreaterThan(100 * (8 / 70));
    expect(wide).toBeLessThan(14);
    expect(percent(lux({ lowest: 69, highest: 71 }))).toBeLessThan(7);
    expect(percent(lux())).toBeGreaterThan(100 * (9 / 70));
    expect(uncertaintyWith(lux())?.reason('metric')).toContain('the conversion from lux ±13 %');
  });

  it('of a single pot is told, and is wider than that of the mean', () => {
    const draw = noise(4);
    const readings = readingsOf({ A: 1, B: 1 }, () => 1 + 0.02 * draw());
    for (const some of [[], readings.slice(0, 1), readings]) {
      const found = potLight({ shelves: [bay], lampKinds: kinds }, lightPlan({ readings: some }));
      const pots = [...found.pots.values()].map(({ plusMinusPercent }) => plusMinusPercent ?? NaN);
      const mean = found.shelves.get('s1')?.uncertainty.plusMinusPercent ?? NaN;
      expect(pots.reduce((sum, p) => sum + p, 0) / pots.length).toBeGreaterThan(mean);
    }
  });

  it('widens where readings and estimate disagree', () => {
    const percent = (factor: number) =>
      uncertaintyWith(readingsOf({ A: factor, B: factor }).slice(0, 1))?.plusMinusPercent ?? NaN;
    expect(percent(0.6)).toBeGreaterThan(1.5 * percent(0.95));
  });
});
