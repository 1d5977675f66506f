import { num, real } from '../../entry';
/** Over which horizontal angles a type C distribution repeats itself. */
export type Symmetry = 'rotational' | 'quadrants' | 'mirror-0-180' | 'mirror-90-270' | 'none';

/** Candela of a type C distribution: vertical angle 0 straight down, one row a horizontal angle. */
export interface Candela {
  /** Degrees, rising. */
  vertical: Float64Array;
  horizontal: Float64Array;
  /** Row by row: index (horizontal) · (count of vertical) + (vertical). */
  values: Float64Array;
  symmetry: Symmetry;
}

/** Index of the last angle ≤ wanted, leaving room for the next one. */
function cellOf(angles: Float64Array, wanted: number): number {
  let low = 0;
  let high = angles.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (real(angles, middle) <= wanted) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The horizontal angle, within the file's range, that stands for any other by symmetry. */
function folded(symmetry: Symmetry, horizontalDeg: number): number {
  const turn = ((horizontalDeg % 360) + 360) % 360;
  switch (symmetry) {
    case 'rotational':
      return 0;
    case 'quadrants': {
      const half = turn % 180;
      return half > 90 ? 180 - half : half;
    }
    case 'mirror-0-180':
      return turn > 180 ? 360 - turn : turn;
    case 'mirror-90-270':
      return turn < 90 ? 180 - turn : turn > 270 ? 540 - turn : turn;
    case 'none':
      return turn;
  }
}

/**
 * Intensity (cd) in a direction (degrees), linear between the file's angles in both; 0 outside the
 * file's vertical range.
 */
export function intensityAt(candela: Candela, verticalDeg: number, horizontalDeg: number): number {
  const { vertical, horizontal, values, symmetry } = candela;
  const count = vertical.length;
  if (verticalDeg < real(vertical, 0) || verticalDeg > real(vertical, count - 1)) return 0;
  const v = cellOf(vertical, verticalDeg);
  const v0 = real(vertical, v);
  const tv = (verticalDeg - v0) / (real(vertical, v + 1) - v0);
  const alongRow = (row: number) => {
    const at = row * count + v;
    return (1 - tv) * real(values, at) + tv * real(values, at + 1);
  };
  if (horizontal.length === 1) return alongRow(0);
  const wanted = folded(symmetry, horizontalDeg);
  const h = cellOf(horizontal, wanted);
  const h0 = real(horizontal, h);
  const th = (wanted - h0) / (real(horizontal, h + 1) - h0);
  return (1 - th) * alongRow(h) + th * alongRow(h + 1);
}

/** ∫ I sin θ dθ over one half-plane, I linear in θ between the angles, sin θ integrated exactly. */
function planeIntegral(vertical: Float64Array, row: Float64Array): number {
  const radian = Math.PI / 180;
  let sum = 0;
  for (let i = 0; i + 1 < vertical.length; i++) {
    const from = real(vertical, i) * radian;
    const to = real(vertical, i + 1) * radian;
    const a = real(row, i);
    const b = real(row, i + 1);
    const slope = (b - a) / (to - from);
    sum += a * Math.cos(from) - b * Math.cos(to) + slope * (Math.sin(to) - Math.sin(from));
  }
  return sum;
}

/**
 * Whole flux (lm): linear between vertical angles with sin θ integrated exactly, trapezium over
 * horizontal angles. It is the exact flux of what `intensityAt` interpolates.
 */
export function integratedLumens(candela: Candela): number {
  const { vertical, horizontal, values } = candela;
  const planes = Array.from(horizontal, (_, h) =>
    planeIntegral(vertical, values.subarray(h * vertical.length, (h + 1) * vertical.length)),
  );
  if (planes.length === 1) return 2 * Math.PI * num(planes, 0);
  let sum = 0;
  for (let h = 0; h + 1 < planes.length; h++) {
    const width = real(horizontal, h + 1) - real(horizontal, h);
    sum += (width * (num(planes, h) + num(planes, h + 1))) / 2;
  }
  const range = real(horizontal, horizontal.length - 1) - real(horizontal, 0);
  return (2 * Math.PI * sum) / range;
}
