import { normalUpper } from '../distributions';
import { Refusal } from '../../../words';
import { num, real } from '../../entry';

export interface MoranInput {
  /** One entry a pot, usually residuals. */
  values: readonly number[];
  /** Grid position of each pot; neighbours are exactly one row or column apart. */
  rows: readonly number[];
  columns: readonly number[];
  /** Pots of different groups (trays, shelves) are never neighbours. Absent: one group. */
  groups?: readonly string[];
  /** rook: side by side; queen: corner to corner too. */
  neighbours: 'rook' | 'queen';
}

export interface Moran {
  /** Above `expected`: neighbours are alike. */
  i: number;
  expected: number;
  variance: number;
  /** Two-sided. */
  p: number;
  /** Pots that stand alone, see `moran`. */
  withoutNeighbours: number;
}

const SIDES = [
  [0, 1],
  [0, -1],
  [1, 0],
  [-1, 0],
] as const;
const CORNERS = [
  [1, 1],
  [1, -1],
  [-1, 1],
  [-1, -1],
] as const;

/** For each pot the indices of its neighbours. */
function neighbourLists(input: MoranInput): number[][] {
  const { values, rows, columns, groups } = input;
  for (const [name, list] of Object.entries({ rows, columns, groups: groups ?? values })) {
    if (list.length !== values.length) {
      throw new Refusal(`Moran: ${values.length} values but ${list.length} ${name}`);
    }
  }
  const key = (group: string, row: number, column: number): string => `${row} ${column} ${group}`;
  const at = new Map<string, number>();
  const place = (pot: number): [string, number, number] => {
    const [row, column] = [rows[pot] ?? NaN, columns[pot] ?? NaN];
    if (!Number.isFinite(row) || !Number.isFinite(column)) {
      throw new Refusal(
        `Moran: value ${pot + 1} has row ${row}, column ${column}; expected numbers`,
      );
    }
    return [groups?.[pot] ?? '', row, column];
  };
  values.forEach((_, pot) => {
    const [group, row, column] = place(pot);
    const name = key(group, row, column);
    if (at.has(name)) {
      throw new Refusal(
        `Moran: two values at row ${row}, column ${column}${group ? ` of ${group}` : ''}; expected one a place`,
      );
    }
    at.set(name, pot);
  });
  const steps = input.neighbours === 'queen' ? [...SIDES, ...CORNERS] : SIDES;
  return values.map((_, pot) => {
    const [group, row, column] = place(pot);
    return steps.flatMap(([down, along]) => at.get(key(group, row + down, column + along)) ?? []);
  });
}

/**
 * Moran's (1950) I with row-standardised weights: each pot against the mean of its neighbours.
 * Expectation and variance under randomisation (Cliff & Ord 1981), p two-sided from the normal.
 *
 * A pot without neighbours counts in the mean and the variance of the values, but neither in the
 * sum over neighbours nor in the number n that enters I, its expectation and its variance (the
 * usual convention; nothing is lost with it where all pots have neighbours).
 */
export function moran(input: MoranInput): Moran {
  const { values } = input;
  values.forEach((value, pot) => {
    if (!Number.isFinite(value)) {
      throw new Refusal(`Moran: value ${pot + 1} is ${value}; expected a finite number`);
    }
  });
  const lists = neighbourLists(input);
  const total = values.length;
  const centre = values.reduce((sum, value) => sum + value, 0) / total;
  const z = values.map((value) => value - centre);
  let squares = 0;
  let fourths = 0;
  for (const value of z) {
    squares += value ** 2;
    fourths += value ** 4;
  }
  const largest = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  if (!(squares > total * (1e-14 * largest) ** 2)) {
    throw new Refusal('Moran: all values are equal; expected some spread');
  }

  let cross = 0;
  let n = 0;
  let s1 = 0;
  let s2 = 0;
  lists.forEach((list, pot) => {
    if (list.length === 0) return;
    n += 1;
    const own = 1 / list.length;
    let towards = 0;
    for (const other of list) {
      cross += own * num(z, pot) * num(z, other);
      const back = 1 / (lists[other]?.length ?? 1);
      towards += back;
      s1 += (own + back) ** 2 / 2;
    }
    s2 += (1 + towards) ** 2;
  });
  if (n < 4) {
    throw new Refusal(`Moran: ${n} values have neighbours; expected four or more`);
  }
  // Row-standardised weights sum to 1 a pot, so that S0 = n and I = Σ z Wz / Σ z².
  const s0 = n;
  const i = cross / squares;
  const expected = -1 / (n - 1);
  const kurtosis = (total * fourths) / squares ** 2;
  const second =
    (n * ((n * n - 3 * n + 3) * s1 - n * s2 + 3 * s0 * s0) -
      kurtosis * ((n * n - n) * s1 - 2 * n * s2 + 6 * s0 * s0)) /
    ((n - 1) * (n - 2) * (n - 3) * s0 * s0);
  const variance = second - expected * expected;
  if (!(variance > 0)) {
    throw new Refusal(
      `Moran: too few values (${n} with neighbours) to judge their pattern; expected more`,
    );
  }
  const p = Math.min(1, 2 * normalUpper(Math.abs(i - expected) / Math.sqrt(variance)));
  return { i, expected, variance, p, withoutNeighbours: total - n };
}

/**
 * Expectation, variance and p of the same I for residuals of a fitted model, whose covariance is in
 * proportion to `covariance` (n × n): for least squares I − X(XᵀX)⁻Xᵀ, with the moments of Cliff & Ord
 * (1981, Spatial Processes, 8.3), E(I) = tr(WS) / tr(S). In general I is a ratio of quadratic forms in
 * normal deviates; its moments are those of the ratio to second order, times m / (m + 2) with m = tr(S)²/tr(S²),
 * which makes them exact for least squares. p is two-sided from the normal.
 */
export function moranOfModel(
  input: MoranInput,
  i: number,
  covariance: Float64Array,
): { expected: number; variance: number; p: number } {
  const lists = neighbourLists(input);
  const n = lists.length;
  // Row r of B = WS, with the symmetric half of W: neighbours weigh by both their numbers.
  const b = new Float64Array(n * n);
  lists.forEach((list, pot) => {
    const own = 1 / Math.max(1, list.length);
    for (const other of list) {
      const weight = (own + 1 / Math.max(1, lists[other]?.length ?? 1)) / 2;
      for (let k = 0; k < n; k++) {
        b[pot * n + k] = real(b, pot * n + k) + weight * real(covariance, other * n + k);
      }
    }
  });
  let size = 0;
  let cross = 0;
  let sizeVariance = 0;
  let crossVariance = 0;
  let together = 0;
  for (let r = 0; r < n; r++) {
    size += real(covariance, r * n + r);
    cross += real(b, r * n + r);
    for (let k = 0; k < n; k++) {
      const s = real(covariance, r * n + k);
      sizeVariance += 2 * s * s;
      crossVariance += 2 * real(b, r * n + k) * real(b, k * n + r);
      together += 2 * real(b, r * n + k) * s;
    }
  }
  const ratio = cross / size;
  const expected = ratio - together / size ** 2 + (ratio * sizeVariance) / size ** 2;
  const m = (2 * size ** 2) / sizeVariance;
  const variance =
    ((crossVariance - 2 * ratio * together + ratio * ratio * sizeVariance) / size ** 2) *
    (m / (m + 2));
  if (!(variance > 0)) throw new Refusal('Moran: the model leaves no pattern to judge');
  const p = Math.min(1, 2 * normalUpper(Math.abs(i - expected) / Math.sqrt(variance)));
  return { expected, variance, p };
}
