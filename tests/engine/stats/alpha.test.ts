import { expect, it } from 'vitest';
import { alphaOf } from '../../../renderer/engine/stats/alpha';
import { referenceOf } from '../../../renderer/engine/stats/randomisation';

it('a share of layouts that is α exactly is judged alike by test and interval', () => {
  for (const alpha of [0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2]) {
    // The confidence of a request is 1 − α, from which α comes back.
    expect(alphaOf(1 - alpha)).toBe(alpha);
    for (const runs of [19, 99, 499, 1999]) {
      const reference = referenceOf(
        Float64Array.from({ length: runs }, (_, i) => i + 1),
        false,
        runs,
      );
      const limit = reference.limit(alphaOf(1 - alpha)) ?? Infinity;
      let atAlpha = 0;
      for (let value = 1; value <= runs + 1; value++) {
        if (reference.p(value) === alpha) atAlpha++;
        expect(value > limit, `${value} of ${runs} at ${alpha}`).toBe(reference.p(value) < alpha);
      }
      if (runs === 1999) expect(atAlpha).toBe(1);
    }
  }
});
