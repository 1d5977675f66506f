import { describe, expect, it } from 'vitest';
import type { LightReading } from '../../../shared-types/light';
import { lightNotices } from '../../../renderer/engine/light/notices';
import { ppfdAtPoints } from '../../../renderer/engine/light/field';
import { potLight } from '../../../renderer/engine/light/potLight';
import { kind, lightPlan, threeStrips } from './racks';

const bay = threeStrips();
const kinds = [kind()];
const rack = { shelves: [bay], lampKinds: kinds };
const places = [
  [300, 200],
  [600, 300],
  [900, 400],
  [450, 350],
  [750, 250],
].map(([xMm = 0, yMm = 0]) => ({ xMm, yMm, zMm: 0 }));
const truth = ppfdAtPoints(bay, kinds, places);

/** Readings that are the estimate times a factor of their own. */
const readingsOf = (factors: readonly number[]): LightReading[] =>
  factors.map((factor, i) => ({
    id: `m${i + 1}`,
    shelfId: bay.id,
    xMm: places[i]?.xMm ?? 0,
    yMm: places[i]?.yMm ?? 0,
    zMm: 0,
    value: (truth[i] ?? 0) * factor,
    unit: 'ppfd',
    luxPerPpfd: null,
    date: null,
    note: '',
  }));
const judged = (factors: readonly number[]) => {
  const light = lightPlan({ readings: readingsOf(factors) });
  const found = potLight(rack, light);
  const notices = lightNotices({ rack, light }, found);
  return {
    source: found.shelves.get(bay.id)?.source,
    mean: found.shelves.get(bay.id)?.evenness?.mean ?? NaN,
    notices: notices.filter((notice) => notice.kind === 'reading-implausible'),
    kinds: notices.map((notice) => notice.kind),
  };
};
const estimated = judged([]).mean;

describe('readings too strange to be believed', () => {
  it('one mistyped among five leaves the shelf estimated, and is named', () => {
    const { source, mean, notices, kinds: all } = judged([1, 1, 0.1, 1, 1]);
    expect(source).toBe('estimated');
    expect(mean).toBeCloseTo(estimated, 9);
    expect(notices).toHaveLength(1);
    expect(notices[0]?.about).toEqual(['reading:m3', `shelf:${bay.id}`]);
    expect(notices[0]?.text).toContain('at 900, 400 mm');
    expect(notices[0]?.text).toContain('90 % below');
    // A meter has been there: that none has would be false.
    expect(all).not.toContain('no-readings');
  });

  it.each([
    ['a factor of 0.5', [0.5, 0.5, 0.5, 0.5, 0.5], 'calibrated'],
    ['a factor of 0.49', [0.49, 0.49, 0.49, 0.49, 0.49], 'estimated'],
    ['a factor of 1.5', [1.5, 1.5, 1.5, 1.5, 1.5], 'calibrated'],
    ['a factor of 1.51', [1.51, 1.51, 1.51, 1.51, 1.51], 'estimated'],
    ['a factor of 1.51 by one reading', [1.51], 'estimated'],
    ['one reading a quarter off', [1, 1, 1.25, 1, 1], 'calibrated'],
    ['one reading two fifths off', [1, 1, 1.4, 1, 1], 'estimated'],
  ])('%s: %s', (_, factors, source) => {
    const found = judged(factors);
    expect(found.source).toBe(source);
    expect(found.notices).toHaveLength(source === 'estimated' ? 1 : 0);
  });

  it('a 0 is no evidence of scale: the others calibrate without it', () => {
    const found = judged([0.8, 0, 0.8, 0.8, 0.8]);
    expect(found.source).toBe('calibrated');
    expect(Math.abs(found.mean / estimated - 0.8)).toBeLessThan(0.02);
    expect(found.kinds).toContain('reading-outlier');
    expect(judged([0, 0, 0, 0, 0]).source).toBe('estimated');
  });
});

/** Readings whose values, or units, are not what was meant. */
const slipped = (change: (reading: LightReading, i: number) => Partial<LightReading>, n = 5) => {
  const readings = readingsOf(places.map(() => 1))
    .slice(0, n)
    .map((reading, i) => ({ ...reading, ...change(reading, i) }));
  const light = lightPlan({ readings });
  const found = potLight(rack, light);
  const notices = lightNotices({ rack, light }, found);
  return {
    source: found.shelves.get(bay.id)?.source,
    said: notices
      .filter((notice) => ['reading-implausible', 'reading-outlier'].includes(notice.kind))
      .map((notice) => `${notice.text} ${notice.remedy}`),
  };
};

describe('slips of unit and decimal point', () => {
  const times = (factor: number) => (reading: LightReading) => ({ value: reading.value * factor });
  const asLux = () => ({ unit: 'lux' as const, luxPerPpfd: 70 });

  it.each([
    ['lux typed as PPFD', times(70), 'lux typed as PPFD'],
    ['red and white light in lux, typed as PPFD', times(50), 'lux typed as PPFD'],
    ['PPFD typed as lux', asLux, 'PPFD typed as lux'],
    ['ten times', times(10), 'ten times the value'],
    ['a tenth', times(0.1), 'a tenth of the value'],
  ])('%s is withheld and named: all, one alone, one of two, two of five', (_, slip, words) => {
    const only = (some: readonly number[]) => (reading: LightReading, i: number) =>
      some.includes(i) ? slip(reading) : {};
    for (const found of [
      slipped(slip),
      slipped(slip, 1),
      slipped(only([1]), 2),
      slipped(only([1, 3])),
    ]) {
      expect(found.source).toBe('estimated');
      expect(found.said).toEqual([expect.stringContaining(words)]);
    }
  });

  it('what lamps may do is no slip: half and one and a half times their figures', () => {
    for (const factor of [0.52, 1.48]) {
      for (const n of [1, 2, 5]) {
        expect(slipped(times(factor), n)).toEqual({ source: 'calibrated', said: [] });
      }
    }
  });

  it('little light in a dark corner is no slip, though ten times the estimate', () => {
    const dark = { xMm: 5, yMm: 5, zMm: 0 };
    const short = { ...bay, lamps: bay.lamps.map((l) => ({ ...l, xMm: 1100 })) };
    const kinds150 = [kind({ lengthMm: 150 })];
    const [there = 0, lit = 0] = ppfdAtPoints(short, kinds150, [
      dark,
      { xMm: 1100, yMm: 300, zMm: 0 },
    ]);
    expect(10 * there).toBeLessThan(0.2 * lit);
    const [first] = readingsOf([1]);
    if (!first) throw new Error('no reading');
    const readings = [
      { ...first, id: 'm1', ...dark, value: 10 * there },
      { ...first, id: 'm2', xMm: 1100, yMm: 300, value: lit },
      { ...first, id: 'm3', xMm: 1050, yMm: 300, value: lit },
    ];
    const light = lightPlan({ readings });
    const said = lightNotices({ rack: { shelves: [short], lampKinds: kinds150 }, light });
    expect(said.filter(({ remedy }) => remedy.includes('ten times'))).toEqual([]);
  });
});

describe('photons on the canopy', () => {
  // Closed and white: nearly all light arrives on the canopy.
  const white = { above: 0.9, canopy: 0.1, front: 0.9, back: 0.9, left: 0.9, right: 0.9 };
  const closed = { ...bay, reflectances: white };
  const judgedIn = (factor: number) => {
    const seen = ppfdAtPoints(closed, kinds, places);
    const readings = readingsOf(places.map(() => 1)).map((reading, i) => ({
      ...reading,
      value: (seen[i] ?? 0) * factor,
    }));
    const light = lightPlan({ readings });
    const whole = { shelves: [closed], lampKinds: kinds };
    return lightNotices({ rack: whole, light })
      .filter(({ kind: of }) => of === 'reading-implausible')
      .map(({ text }) => text);
  };

  it('more than the lamps emit, beyond lamps’ and meter’s tolerance, is not believed', () => {
    expect(judgedIn(1.45)).toEqual([expect.stringContaining('its lamps emit 120')]);
    expect(judgedIn(1.15)).toEqual([]);
    // In an open bay much light misses the canopy: the same factor may be true.
    expect(judged([1.45, 1.45, 1.45, 1.45, 1.45]).source).toBe('calibrated');
  });
});

describe('readings off the estimate', () => {
  it('beyond what it allows are followed, and said', () => {
    expect(judged([0.7, 0.7, 0.7, 0.7, 0.7]).kinds).toContain('readings-off-estimate');
    expect(judged([0.9, 0.9, 0.9, 0.9, 0.9]).kinds).not.toContain('readings-off-estimate');
  });
});

describe('many readings', () => {
  /** A repeatable stream from −0.5 to 0.5. */
  const draws = (seed: number) => {
    let state = seed;
    return () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 4294967296 - 0.5;
  };

  it('500 readings of a shelf take at most half a second of work', () => {
    const draw = draws(9);
    const many = Array.from({ length: 500 }, () => ({
      xMm: 600 + 1100 * draw(),
      yMm: 300 + 500 * draw(),
      zMm: 0,
    }));
    const seen = ppfdAtPoints(bay, kinds, many);
    const [first] = readingsOf([1]);
    if (!first) throw new Error('no reading');
    const readings = many.map((place, i) => ({
      ...first,
      ...place,
      id: `m${i}`,
      value: (seen[i] ?? 0) * (0.9 + 0.1 * draw()),
    }));
    const began = process.cpuUsage();
    const found = potLight(rack, lightPlan({ readings }));
    const { user, system } = process.cpuUsage(began);
    expect(found.shelves.get(bay.id)?.source).toBe('calibrated');
    expect((user + system) / 1e6).toBeLessThan(0.5);
  });
});
