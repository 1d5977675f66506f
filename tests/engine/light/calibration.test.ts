import { describe, expect, it } from 'vitest';
import type { LightReading } from '../../../shared-types/light';
import { calibrate, type Calibration } from '../../../renderer/engine/light/calibration';
import { nonNegativeLeastSquares } from '../../../renderer/engine/light/calibration/nnls';
import {
  smoothSurface,
  type SurfacePoint,
} from '../../../renderer/engine/light/calibration/smooth';
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

describe('non-negative least squares', () => {
  it('meets the conditions of Karush, Kuhn and Tucker, and beats every sign pattern', () => {
    const draw = noise(3);
    for (let trial = 0; trial < 40; trial++) {
      const rows = Array.from({ length: 9 }, () => [draw(), draw(), draw(), draw()]);
      const b = rows.map(() => draw());
      const x = nonNegativeLeastSquares(rows, b);
      const left = rows.map(
        (row, i) => (b[i] ?? 0) - row.reduce((s, a, j) => s + a * (x[j] ?? 0), 0),
      );
      for (let j = 0; j < 4; j++) {
        const gradient = rows.reduce((sum, row, i) => sum + (row[j] ?? 0) * (left[i] ?? 0), 0);
        expect(x[j]).toBeGreaterThanOrEqual(0);
        if ((x[j] ?? 0) > 0) expect(Math.abs(gradient)).toBeLessThan(1e-9);
        else expect(gradient).toBeLessThan(1e-9);
      }
    }
  });
});

describe('a smooth surface', () => {
  const draw = noise(11);
  const sites: SurfacePoint[] = places.map((p) => ({
    x: p.xMm / 1200,
    y: p.yMm / 1200,
    value: 0.2 * Math.sin((p.xMm / 1200) * 5) + 0.02 * draw(),
  }));

  it.each([Infinity, 1e-1, 1e-3])('smoothing %d: left-out residuals are those of refits', (l) => {
    const whole = smoothSurface(sites, l);
    sites.forEach((site, i) => {
      const rest = smoothSurface(
        sites.filter((_, j) => j !== i),
        l,
      );
      expect(whole.leftOut[i]).toBeCloseTo(site.value - rest.at(site.x, site.y), 8);
    });
  });

  it('reproduces a plane at any smoothing and interpolates at next to none', () => {
    const flat = sites.map((s) => ({ ...s, value: 1 + 2 * s.x - 3 * s.y }));
    for (const l of [Infinity, 10, 1e-4]) {
      expect(smoothSurface(flat, l).at(0.4, 0.3)).toBeCloseTo(1 + 0.8 - 0.9, 9);
    }
    const exact = smoothSurface(sites, 1e-12);
    sites.forEach((s) => expect(exact.at(s.x, s.y)).toBeCloseTo(s.value, 7));
  });

  it('is not drawn through mere noise, nor through few or lined-up sites', () => {
    const even = sites.map((s) => ({ ...s, value: 0.03 * draw() }));
    expect(smoothSurface(even).at(0.2, 0.2)).toBeLessThan(0.05);
    expect(smoothSurface(sites.slice(0, 5)).smoothing).toBeNaN();
    expect(smoothSurface(sites.map((s) => ({ ...s, y: 0.2 }))).smoothing).toBeNaN();
  });
});

describe('calibration by readings', () => {
  it('finds the factor of each group exactly where readings are exact', () => {
    const found = calibrated(readingsOf({ A: 0.8, B: 0.95 }));
    expect(found.separate).toBe(true);
    expect(found.scales[0]?.scale).toBeCloseTo(0.8, 9);
    expect(found.scales[1]?.scale).toBeCloseTo(0.95, 9);
    expect(found.surface).toBe('none');
    expect(found.rmsPercent).toBeLessThan(1e-7);
    expect(found.leftOutPercent ?? NaN).toBeLessThan(1e-7);
  });

  it('a group that is off gets 0, never less', () => {
    const off = calibrated(readingsOf({ A: 0.8, B: 0 }));
    expect(off.scaleOf('B')).toBeCloseTo(0, 9);
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
      expect(pot.ppfdUmol / (truth.pots.get(id)?.ppfdUmol ?? NaN)).toBeCloseTo(1, 9);
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

  it('one reading scales all lamps alike', () => {
    const [first] = readingsOf({ A: 0.7, B: 0.7 });
    const found = calibrated(first ? [first] : []);
    expect(found.separate).toBe(false);
    expect(found.scaleOf('A')).toBeCloseTo(0.7, 12);
    expect(found.scaleOf('B')).toBeCloseTo(0.7, 12);
    expect(found.leftOutPercent).toBeNull();
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
    expect(notices[0]?.text).toContain(times > 0 ? 'µmol m⁻² s⁻¹' : 'a 0');
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

  it('shrinks with readings, and says when they are too few to tell', () => {
    const draw = noise(4);
    const uncertainty = uncertaintyWith(readingsOf({ A: 1, B: 1 }, () => 1 + 0.02 * draw()));
    expect(uncertainty?.plusMinusPercent ?? NaN).toBeLessThan(8);
    expect(uncertainty?.reason('metric')).toContain('readings left out of the fit');
    expect(uncertaintyWith([reading({})])?.plusMinusPercent).toBeNull();
  });
});
