import { entry, real } from '../../entry';
import type { ReadingAgainstOthers } from './implausible';
import { FEWEST_TO_LEAVE_OUT, type EstimateKnown } from './judge';
import { regression, type Regression } from './regression';
import type { Row } from './rows';

// A left-out reading this many standard deviations from the rest, and this large, is an outlier.
const OUTLIER_DEVIATIONS = 5;
const OUTLIER_SHARE = 0.2;
function leftOutOf(
  rows: readonly Row[],
  fit: Regression,
  uncertaintyOf: (row: Row) => number,
): ReadingAgainstOthers[] {
  const each = fit.leftOut();
  return rows.flatMap((row, i) => {
    const { expected, deviation } = entry(each, i);
    const expectedUmol = row.estimated * (1 + expected);
    if (!(expectedUmol > 0)) return [];
    return [
      {
        readingId: row.reading.id,
        measuredUmol: row.measured,
        expectedUmol,
        percent: 100 * (row.measured / expectedUmol - 1),
        deviations:
          Math.abs(row.sample.value - expected) / Math.hypot(deviation, uncertaintyOf(row)),
      },
    ];
  });
}

/** Sound rows without outliers, the worst first, of at most a quarter of all; and their fit. */
export function withoutOutliers(
  sound: readonly Row[],
  all: number,
  known: EstimateKnown,
  uncertaintyOf: (row: Row) => number,
) {
  const fitted = (rows: readonly Row[]) =>
    regression(
      rows.map(({ sample }) => sample),
      known.common,
    );
  const most = Math.floor(all / 4);
  let kept = sound;
  let fit = fitted(kept);
  for (;;) {
    const leftOut = leftOutOf(kept, fit, uncertaintyOf);
    if (kept.length < FEWEST_TO_LEAVE_OUT || all - kept.length >= most)
      return { kept, fit, leftOut };
    const [worst] = [...leftOut].sort((a, b) => b.deviations - a.deviations);
    const row = kept.find(({ reading }) => reading.id === worst?.readingId);
    if (!row) return { kept, fit, leftOut };
    // Judged by those without it: with it in, it makes all readings look less sure.
    const others = kept.filter((other) => other !== row);
    const without = fitted(others);
    const weights = without.weightsAt(row.sample);
    const expected = others.reduce((sum, o, i) => sum + o.sample.value * real(weights, i), 0);
    const away = Math.abs(row.sample.value - expected) / (1 + expected);
    const alone = without.sizes.single * Math.hypot(1, row.sample.dark);
    const deviation = Math.hypot(
      Math.max(alone, LEAST_ALONE),
      without.deviationAt(row.sample),
      uncertaintyOf(row),
    );
    if (away < OUTLIER_SHARE || away < OUTLIER_DEVIATIONS * deviation)
      return { kept, fit, leftOut };
    [kept, fit] = [others, without];
  }
}

// Readings that agree by chance make the next an outlier: a hand-held sensor may be off by twice the usual.
const LEAST_ALONE = 0.04;
