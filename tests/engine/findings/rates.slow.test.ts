import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ANY_MODEL, anyModelWords } from '../../../renderer/engine/findings';
import {
  fieldAlarms,
  PLACE_MODELS,
  shareBelow,
  shareOfAny,
  trayAlarms,
  windowAlarms,
} from '../../bench/falseAlarms';
import { countCases, countedAlike } from '../../bench/countRates';
import { redrawCases, redrawn } from '../../bench/redrawRates';

// Short runs of tests/bench/falseAlarms.long.bench.ts, whose long ones are stored beside it. Limits are
// three standard errors from the wanted rates, for as many sets as are run here.
const within = (rate: number, tests: number) => 3 * Math.sqrt((rate * (1 - rate)) / tests);

describe('treatments that do nothing', () => {
  it.each([0, 0.5])(
    'on trays with variance %d are called a difference at the level',
    (variance) => {
      const { feed = [], cultivar = [] } = trayAlarms(variance, 200, 'short');
      for (const ps of [feed, cultivar]) {
        const { share, tests } = shareBelow(ps, 0.05);
        expect(tests).toBe(200);
        expect(share).toBeGreaterThan(0.05 - within(0.05, 200));
        expect(share).toBeLessThan(0.05 + within(0.05, 200));
        expect(shareBelow(ps, 0.01).share).toBeLessThan(0.01 + within(0.01, 200));
      }
    },
  );

  it('on uniform barley are called so at the level with blocks alone', () => {
    const { share } = shareBelow(fieldAlarms('barley', 'none', 200, 'short'), 0.05);
    expect(share).toBeLessThan(0.05 + within(0.05, 200));
  });
});

describe('a randomisation test of one factor of several', () => {
  it.each(redrawCases.map((one) => [one.name, one] as const))(
    'is called approximate where the others cannot stay, and nowhere else: %s',
    (_, one) => {
      expect(redrawn(one, 'short').approximate).toBe(one.approximate);
    },
  );

  it('keeps to its level while another factor does much', () => {
    const [one] = redrawCases;
    if (!one) throw new Error('there are cases');
    const ps = Array.from({ length: 100 }, (__, set) => redrawn(one, `short ${set}`).p);
    const { share } = shareBelow(ps, 0.05 + 1e-9);
    expect(share).toBeLessThan(0.05 + within(0.05, 100));
  });
});

describe('few counts that vary much', () => {
  it('are judged by layouts, at the level, where a negative binomial model cries', () => {
    const [square] = countCases;
    if (!square) throw new Error('there are cases');
    const sets = Array.from({ length: 30 }, (_, set) =>
      countedAlike(square, { mean: 10, theta: 1.5 }, `short ${set}`),
    );
    const shareOf = (by: keyof (typeof sets)[number]) =>
      shareBelow(
        sets.map((p) => p[by]),
        0.05 + 1e-9,
      ).share;
    expect(shareOf('findings')).toBeLessThan(0.05 + within(0.05, 30));
    expect(shareOf('negative-binomial model')).toBeGreaterThan(0.2);
  });
});

describe('one of several position models', () => {
  const stored = JSON.parse(
    readFileSync(new URL('../../bench/false-alarms.json', import.meta.url), 'utf8'),
  ) as Record<string, { at5: { share: number; tests: number } }>;

  it('falls below 5 % as often as the findings say', () => {
    const { at5 } = stored['radish windows, any of six models'] ?? {};
    expect(ANY_MODEL.share).toBeCloseTo(at5?.share ?? NaN, 3);
    expect(ANY_MODEL.sets).toBe(at5?.tests);
    expect(PLACE_MODELS).toHaveLength(ANY_MODEL.models);
    expect(anyModelWords()).toContain(`${Math.round(100 * (at5?.share ?? NaN))} %`);
  });

  it('is counted over the models of each set, which its seed alone decides', () => {
    const sets = windowAlarms({ from: 0, to: 1 }, 'short');
    expect(sets.map(({ none }) => none)).toEqual(
      windowAlarms({ from: 0, to: 1 }, 'short').map(({ none }) => none),
    );
    for (const { none } of sets) expect(none).toBeGreaterThan(0);
    const made = [
      { none: 0.2, edge: 0.04 },
      { none: 0.03, edge: null },
      { none: 0.5, edge: 0.9 },
    ];
    expect(shareOfAny(made, 0.05)).toMatchObject({ share: 2 / 3, tests: 3 });
  });
});
