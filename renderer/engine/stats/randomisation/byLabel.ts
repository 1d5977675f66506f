import type { MovingRows } from './moving';
import type { RandomisationPlan } from './plan';
import type { RandomisationStatistic, Staying } from './types';

/** The columns that are not zero under one label, and their values, the same in every row. */
interface SharedRow {
  place: Int32Array;
  value: Float64Array;
}

const same = (a: ArrayLike<number>, b: ArrayLike<number>): boolean => {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return a.length === b.length;
};

/** The moving columns by label; null where they depend on the row, too, as with a covariate. */
export function sharedRows({ places, values }: MovingRows): SharedRow[] | null {
  const shared: SharedRow[] = [];
  for (const [label, rowPlaces] of places.entries()) {
    const rowValues = values[label] ?? [];
    const [place] = rowPlaces;
    const [value] = rowValues;
    if (!place || !value) return null;
    if (!rowPlaces.every((other) => same(place, other))) return null;
    if (!rowValues.every((other) => same(value, other))) return null;
    shared.push({ place, value });
  }
  return shared;
}

/**
 * The same statistic from shorter sums: where the moving columns depend on the label alone, it is
 * enough to add up by label the response left over, the coordinates in the basis of what stays and
 * the number of rows. That is what thousands of layouts spend their time on.
 */
export function byLabel(
  statistic: RandomisationStatistic,
  shared: readonly SharedRow[],
  { unitRows }: Pick<RandomisationPlan, 'unitRows'>,
  { left, basisRows, q, d }: Staying,
): RandomisationStatistic {
  const width = q + 2;
  const moments = new Float64Array(unitRows.length * width);
  unitRows.forEach((rows, unit) => {
    for (const i of rows) {
      const own = [left[i] ?? 0, ...basisRows.subarray(i * q, (i + 1) * q), 1];
      own.forEach((value, k) => {
        moments[unit * width + k] = (moments[unit * width + k] ?? 0) + value;
      });
    }
  });
  const full = new Float64Array(statistic.size);
  const [alongAt, responseAt] = [d * d, d * d + q * d];
  const add = (at: number, value: number): void => {
    full[at] = (full[at] ?? 0) + value;
  };
  return {
    size: shared.length * width,
    addUnit(sums, unit, label) {
      const to = label * width;
      const from = unit * width;
      for (let k = 0; k < width; k++) sums[to + k] = (sums[to + k] ?? 0) + (moments[from + k] ?? 0);
    },
    f(sums) {
      full.fill(0);
      for (let label = 0; label < shared.length; label++) {
        const { place, value } = shared[label] ?? { place: [], value: [] };
        const from = label * width;
        const count = sums[from + width - 1] ?? 0;
        for (let s = 0; s < place.length; s++) {
          const a = place[s] ?? 0;
          const v = value[s] ?? 0;
          add(responseAt + a, v * (sums[from] ?? 0));
          for (let k = 0; k < q; k++) add(alongAt + a * q + k, v * (sums[from + 1 + k] ?? 0));
          for (let t = 0; t <= s; t++) add(a * d + (place[t] ?? 0), v * (value[t] ?? 0) * count);
        }
      }
      return statistic.f(full);
    },
  };
}
