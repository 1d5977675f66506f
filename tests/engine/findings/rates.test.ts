import { describe, expect, it } from 'vitest';
import { fieldAlarms, shareBelow, trayAlarms } from '../../bench/false-alarms';

// Short runs of tests/bench/falseAlarms.long.bench.ts, whose long ones are stored beside it. Limits are
// three standard errors from the wanted rates, for as many sets as are run here.
const within = (rate: number, tests: number) => 3 * Math.sqrt((rate * (1 - rate)) / tests);

describe('treatments that do nothing', () => {
  it.each([0, 0.5])(
    'on trays with variance %d are called a difference at the level',
    (variance) => {
      const { feed = [], cultivar = [] } = trayAlarms(variance, 400, 'short');
      for (const ps of [feed, cultivar]) {
        const { share, tests } = shareBelow(ps, 0.05);
        expect(tests).toBe(400);
        expect(share).toBeGreaterThan(0.05 - within(0.05, 400));
        expect(share).toBeLessThan(0.05 + within(0.05, 400));
        expect(shareBelow(ps, 0.01).share).toBeLessThan(0.01 + within(0.01, 400));
      }
    },
  );

  it('on uniform barley are called so at the level with blocks alone', () => {
    const { share } = shareBelow(fieldAlarms('barley', 'none', 200, 'short'), 0.05);
    expect(share).toBeLessThan(0.05 + within(0.05, 200));
  });
});
