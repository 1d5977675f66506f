import { describe, expect, it } from 'vitest';
import type { LightReading } from '../../../shared-types/light';
import { lightNotices } from '../../../renderer/engine/light/notices';
import { ppfdAtPoints } from '../../../renderer/engine/light/field';
import { potLight } from '../../../renderer/engine/light/potLight';
import {
  smoothSurface,
  rootMeanSquare,
  type SurfacePoint,
} from '../../../renderer/engine/light/calibration/smooth';
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
    expect(found.mean / estimated).toBeCloseTo(0.8, 6);
    expect(found.kinds).toContain('reading-outlier');
    expect(judged([0, 0, 0, 0, 0]).source).toBe('estimated');
  });
});

describe('a surface over many readings', () => {
  /** A repeatable stream from −0.5 to 0.5. */
  const draws = (seed: number) => {
    let state = seed;
    return () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 4294967296 - 0.5;
  };
  const sitesOf = (n: number, seed: number): SurfacePoint[] => {
    const draw = draws(seed);
    return Array.from({ length: n }, () => {
      const [x, y] = [draw() + 0.5, (draw() + 0.5) / 2];
      return { x, y, value: 0.15 * Math.sin(4 * x) - 0.1 * y + 0.08 * draw() };
    });
  };

  it.each([1, 2, 3])('has the error figure of the whole spline within a tenth: seed %i', (seed) => {
    const sites = sitesOf(160, seed);
    const whole = smoothSurface(sites, undefined, Infinity);
    const thin = smoothSurface(sites);
    const error = rootMeanSquare(whole.leftOut);
    expect(Math.abs(rootMeanSquare(thin.leftOut) / error - 1)).toBeLessThan(0.1);
    // And lies within half of that error of it.
    const apart = sites.map(({ x, y }) => thin.at(x, y) - whole.at(x, y));
    expect(rootMeanSquare(apart)).toBeLessThan(error / 2);
  });

  it('of up to 64 is the whole spline, as it was', () => {
    const sites = sitesOf(64, 4);
    expect(smoothSurface(sites).leftOut).toEqual(smoothSurface(sites, undefined, Infinity).leftOut);
  });

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
