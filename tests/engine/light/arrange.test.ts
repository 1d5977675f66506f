import { describe, expect, it } from 'vitest';
import { arrange, type ArrangeRequest } from '../../../renderer/engine/light/arrange';
import { searchPlaces } from '../../../renderer/engine/light/arrange/search';
import { evenness } from '../../../renderer/engine/light/evenness';
import { ppfdAtPoints } from '../../../renderer/engine/light/field';
import { kind, lamp, shelf, tray } from './racks';

const openFront = { above: 0.7, canopy: 0.1, front: 0, back: 0.85, left: 0.85, right: 0.85 };
const bay = shelf({ clearanceMm: 450, reflectances: openFront, trays: [tray()] });
const limits = { lowestMm: 300, highestMm: 400, fromSidesMm: 30, apartMm: 40 };
const request = (change: Partial<ArrangeRequest> = {}): ArrangeRequest => ({
  shelf: bay,
  lampKinds: [kind()],
  kind: kind(),
  count: 4,
  targetMeanUmol: 100,
  heightMm: 80,
  limits,
  ...change,
});

describe('arranging lamps', () => {
  const answer = arrange(request());

  it('meets the target, beats equal spacing under one open side, and is not mirrored', () => {
    expect(answer.over).toBe('pots');
    expect(answer.after.meetsTarget).toBe(true);
    expect(answer.after.evenness.minToMean ?? 0).toBeGreaterThan(
      (answer.equallySpaced.evenness.minToMean ?? 1) + 0.02,
    );
    // Mirrored places would find each row's image on another row.
    const places = answer.after.lamps.map((l) => l.yMm);
    const astray = places.map((y) => Math.min(...places.map((other) => Math.abs(600 - y - other))));
    expect(Math.max(...astray)).toBeGreaterThan(20);
  });

  it('says what the pots get in truth: the same by the shelf’s own computation', () => {
    const hung = {
      ...bay,
      lamps: answer.after.lamps.map((l, i) => ({ ...l, id: `l${i + 1}` })),
    };
    const pots = [0, 1, 2].flatMap((row) =>
      [0, 1, 2, 3, 4, 5].map((column) => ({
        xMm: 100 + 200 * column,
        yMm: 100 + 200 * row,
        zMm: 80,
      })),
    );
    const found = evenness(ppfdAtPoints(hung, [kind()], pots, { heightMm: 80 }));
    expect(found.mean).toBeCloseTo(answer.after.evenness.mean, 9);
    expect(found.mean).toBeCloseTo(100, 9);
    expect(found.minToMean).toBeCloseTo(answer.after.evenness.minToMean ?? NaN, 12);
  });

  it('keeps within the limits', () => {
    for (const { yMm, zMm, dimming } of answer.after.lamps) {
      expect(yMm).toBeGreaterThanOrEqual(30 - 1e-6);
      expect(yMm).toBeLessThanOrEqual(570 + 1e-6);
      expect(zMm).toBeGreaterThanOrEqual(300);
      expect(zMm).toBeLessThanOrEqual(400);
      expect(dimming).toBeLessThanOrEqual(1);
    }
    const places = answer.after.lamps.map((l) => l.yMm);
    places.slice(1).forEach((place, i) => {
      expect(place - (places[i] ?? 0)).toBeGreaterThanOrEqual(40 - 1e-6);
    });
  });

  it('is never worse than what hangs there already, its own finding fed back included', () => {
    const lamps = answer.after.lamps.map((l, i) => ({ ...l, id: `l${i + 1}` }));
    const again = arrange(request({ shelf: { ...bay, lamps } }));
    expect(again.before?.evenness.minToMean).toBeCloseTo(
      answer.after.evenness.minToMean ?? NaN,
      12,
    );
    expect(again.after.evenness.minToMean ?? 0).toBeGreaterThanOrEqual(
      answer.after.evenness.minToMean ?? 1,
    );
    for (const shift of [-25, 40]) {
      const hung = [120, 240, 360, 480].map((yMm, i) =>
        lamp({ id: `l${i + 1}`, yMm: yMm + shift, zMm: 350, dimming: 0.7 }),
      );
      const found = arrange(request({ shelf: { ...bay, lamps: hung } }));
      expect(found.after.meetsTarget).toBe(true);
      expect(found.after.evenness.minToMean ?? 0).toBeGreaterThanOrEqual(
        found.before?.evenness.minToMean ?? 1,
      );
    }
  });

  it('a target out of reach: full output at the brightest height, and it says so', () => {
    const { after } = arrange(request({ targetMeanUmol: 900, reflected: false }));
    expect(after.meetsTarget).toBe(false);
    expect(after.lamps.map((l) => l.dimming)).toEqual([1, 1, 1, 1]);
    expect(after.lamps[0]?.zMm).toBe(300);
  });

  it('without pots the canopy is judged; a bay open all round is lit from both sides alike', () => {
    const open = { above: 0, canopy: 0, front: 0, back: 0, left: 0, right: 0 };
    const bare = shelf({ clearanceMm: 450, reflectances: open });
    const { after, over } = arrange(request({ shelf: bare, count: 2 }));
    expect(over).toBe('canopy');
    const [first = NaN, last = NaN] = after.lamps.map((l) => l.yMm);
    expect(Math.abs(first + last - 600)).toBeLessThan(4);
  });

  it('lays short lamps in rows of several', () => {
    const short = kind({ lengthMm: 500 });
    const { after } = arrange(request({ kind: short, perRow: 2, reflected: false }));
    expect(after.lamps.map((l) => l.xMm)).toEqual([300, 900, 300, 900]);
    expect(after.lamps[0]?.yMm).toBe(after.lamps[1]?.yMm);
    expect(after.lamps[0]?.yMm).toBeLessThan(after.lamps[2]?.yMm ?? 0);
  });

  it('refuses what cannot be', () => {
    expect(() => arrange(request({ count: 5, perRow: 2 }))).toThrow('whole rows');
    expect(() => arrange(request({ targetMeanUmol: 0 }))).toThrow('target 0');
    expect(() => arrange(request({ limits: { ...limits, lowestMm: 60 } }))).toThrow(
      'heights above the canopy',
    );
    expect(() => arrange(request({ limits: { ...limits, apartMm: 300 } }))).toThrow(
      'they do not fit',
    );
  });
});

describe('the search for places', () => {
  it('finds the best of an exhaustive grid for two rows', () => {
    // Two bell-shaped rows over points 0–600; one end is lit from elsewhere as well.
    const points = Array.from({ length: 13 }, (_, i) => 50 * i);
    const response = (y: number) =>
      Float64Array.from(points, (p) => Math.exp(-(((p - y) / 220) ** 2)) + 0.15 * (p / 600) ** 2);
    const score = (a: number, b: number) => {
      const [r, s] = [response(a), response(b)];
      return evenness(r.map((value, i) => value + (s[i] ?? 0))).minToMean ?? 0;
    };
    let best = 0;
    for (let a = 0; a <= 600; a += 2) {
      for (let b = a + 40; b <= 600; b += 2) best = Math.max(best, score(a, b));
    }
    const [a = 0, b = 0] = searchPlaces(
      response,
      [
        [150, 450],
        [0, 600],
      ],
      { fromMm: 0, toMm: 600, apartMm: 40 },
    );
    expect(score(a, b)).toBeGreaterThan(best - 0.003);
  });
});
