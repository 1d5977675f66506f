import { nonNegativeLeastSquares } from './nnls';
import { num } from '../../entry';

// Two groups whose patterns at the readings differ by less than this cannot be told apart.
const LEAST_PIVOT = 1e-4;
// Readings below this share of the largest are weighted as if they were that large.
const SMALLEST_SHARE = 0.05;
const ROUNDS = 15;
const BELIEVED = 0.02;

/** What the lamps of one group give, against their figures. */
export interface GroupScale {
  group: string;
  scale: number;
}

/** A factor for every lamp group; 1 for a group that no reading has spoken of. */
export function scaleIn(scales: readonly GroupScale[]): (group: string) => number {
  const byGroup = new Map(scales.map(({ group, scale }) => [group, scale]));
  return (group) => byGroup.get(group) ?? 1;
}

/**
 * Factors on the lamp groups that carry predicted readings (`predicted[i][g]`) to the measured
 * ones: non-negative least squares of relative errors, outliers weighted down (Huber's weights,
 * tuning 2). Where there are fewer readings than groups, or the readings cannot tell the groups
 * apart, one factor serves all.
 */
export function fitScales(
  predicted: readonly (readonly number[])[],
  measured: readonly number[],
): { scales: number[]; separate: boolean } {
  const groups = predicted[0]?.length ?? 0;
  const seen = Array.from({ length: groups }, (_, g) => g).filter((g) =>
    predicted.some((row) => num(row, g) > 0),
  );
  // Readings that are all 0 are met by factors of 0, whatever their weight.
  const floor = SMALLEST_SHARE * Math.max(...measured) || 1;
  const sizes = measured.map((value) => Math.max(value, floor));
  const scaled = (columns: (row: readonly number[]) => number[]) =>
    predicted.map((row, i) => columns(row).map((value) => value / (sizes[i] ?? 1)));
  const target = measured.map((value, i) => value / (sizes[i] ?? 1));
  const total = scaled((row) => [row.reduce((sum, value) => sum + value, 0)]);
  const [common = 1] = robust(total, target);
  const rows = scaled((row) => seen.map((g) => num(row, g)));
  const separate = seen.length > 1 && rows.length >= seen.length && tellsApart(rows);
  const scales = new Array<number>(groups).fill(common);
  if (separate) {
    const found = robust(rows, target);
    seen.forEach((g, k) => (scales[g] = found[k] ?? common));
  }
  return { scales, separate };
}

function robust(rows: readonly (readonly number[])[], target: readonly number[]): number[] {
  let weights = target.map(() => 1);
  let scales: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const roots = weights.map(Math.sqrt);
    scales = nonNegativeLeastSquares(
      rows.map((row, i) => row.map((value) => value * (roots[i] ?? 1))),
      target.map((value, i) => value * (roots[i] ?? 1)),
    );
    const errors = rows.map((row, i) =>
      Math.abs(num(target, i) - row.reduce((sum, v, g) => sum + v * num(scales, g), 0)),
    );
    const sorted = [...errors].sort((a, b) => a - b);
    const deviation = Math.max(1.4826 * num(sorted, sorted.length >> 1), BELIEVED);
    const next = errors.map((error) => Math.min(1, (2 * deviation) / error));
    if (next.every((weight, i) => Math.abs(weight - num(weights, i)) < 1e-9)) break;
    weights = next;
  }
  return scales;
}

/** Pivots of the Cholesky factor of the columns' cosines: small ones mean look-alike columns. */
function tellsApart(rows: readonly (readonly number[])[]): boolean {
  const n = rows[0]?.length ?? 0;
  const column = (g: number) => rows.map((row) => num(row, g));
  const product = (a: number[], b: number[]) => a.reduce((sum, v, i) => sum + v * num(b, i), 0);
  const basis: number[][] = [];
  for (let g = 0; g < n; g++) {
    const own = column(g);
    const length = Math.sqrt(product(own, own));
    let left = own.map((v) => v / length);
    for (const direction of basis) {
      const along = product(left, direction);
      left = left.map((v, i) => v - along * num(direction, i));
    }
    const size = product(left, left);
    if (size < LEAST_PIVOT) return false;
    basis.push(left.map((v) => v / Math.sqrt(size)));
  }
  return true;
}
