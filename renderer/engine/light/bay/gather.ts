import type { PointMm } from '../sources/direct';
import type { BayBox, FaceGrid } from './box';
import { add, real } from '../../entry';

/**
 * Light that arrives at level, upward facing receivers from the underside above and the four
 * sides, exact for patches of even brightness. Patches of a face share corners, so that the sum
 * over patches of brightness × factor is turned into one over corners of the brightness's mixed
 * difference × corner term: for the underside `parallelCorner`, for a side at distance a from the
 * receiver a/r · atan(b/r) / 2π with r² = a² + height² and b along the foot (trade sheet 1.5). What
 * depends on a receiver's x or y alone is worked out once for all receivers in that column or row.
 * Sides count only above the receiver.
 */
export function gather(
  box: BayBox,
  leaving: Float64Array,
  points: readonly PointMm[],
): Float64Array {
  const { widthMm, depthMm } = box.size;
  const { above, front, back, left, right } = box.faces;
  const overhead = cornersOf(above, leaving);
  const [atFront, atBack] = [cornersOf(front, leaving), cornersOf(back, leaving)];
  const [atLeft, atRight] = [cornersOf(left, leaving), cornersOf(right, leaving)];
  const planes = new Map<number, Plane>();
  const result = new Float64Array(points.length);
  points.forEach(({ xMm, yMm, zMm }, n) => {
    if (zMm >= box.size.topMm) return;
    const plane = known(planes, zMm, () => planeAt(box, zMm));
    const x = known(plane.columns, xMm, () => lineAt(plane, xMm, widthMm, box.cuts.x));
    const y = known(plane.rows, yMm, () => lineAt(plane, yMm, depthMm, box.cuts.y));
    const walls =
      fromWall(atFront, x, y.near) +
      fromWall(atBack, x, y.far) +
      fromWall(atLeft, y, x.near) +
      fromWall(atRight, y, x.far);
    result[n] = (fromOverhead(overhead, x, y) + walls) / (2 * Math.PI);
  });
  return result;
}

/** Receivers of one height: heights of the sides' corners over them, and the lines they lie on. */
interface Plane {
  overheadMm: number;
  heights: Float64Array;
  columns: Map<number, Line>;
  rows: Map<number, Line>;
}

/** What all receivers at one x (or one y) share. */
interface Line {
  /** From the receiver to the corners along this direction. */
  offsets: Float64Array;
  /** 1/√(c² + d²) for the underside c above, and d times it. */
  inverse: Float64Array;
  slopes: Float64Array;
  /** The sides at the low and the high end of this direction. */
  near: Wall;
  far: Wall;
}

/** A side seen from a distance: a/r and 1/r for the corners of each height, r² = a² + height². */
interface Wall {
  shares: Float64Array;
  inverse: Float64Array;
}

function known<V>(map: Map<number, V>, key: number, make: () => V): V {
  let value = map.get(key);
  if (value === undefined) {
    value = make();
    map.set(key, value);
  }
  return value;
}

function planeAt({ size, cuts }: BayBox, zMm: number): Plane {
  const step = (size.topMm - size.bottomMm) / cuts.z;
  const heights = Float64Array.from({ length: cuts.z + 1 }, (_, j) =>
    Math.max(0, size.bottomMm + j * step - zMm),
  );
  return { overheadMm: size.topMm - zMm, heights, columns: new Map(), rows: new Map() };
}

function lineAt(plane: Plane, atMm: number, spanMm: number, cuts: number): Line {
  const offsets = Float64Array.from({ length: cuts + 1 }, (_, i) => (i * spanMm) / cuts - atMm);
  const inverse = offsets.map((d) => 1 / Math.hypot(plane.overheadMm, d));
  const slopes = offsets.map((d, i) => d * real(inverse, i));
  return {
    offsets,
    inverse,
    slopes,
    near: wallAt(plane, atMm),
    far: wallAt(plane, spanMm - atMm),
  };
}

function wallAt({ heights }: Plane, awayMm: number): Wall {
  // A receiver behind a side does not see it; one that touches it sees it edge on.
  if (awayMm < 0) return { shares: new Float64Array(0), inverse: new Float64Array(0) };
  const away = Math.max(awayMm, 1e-6);
  const inverse = heights.map((height) => 1 / Math.hypot(height, away));
  return { shares: inverse.map((value) => away * value), inverse };
}

function fromOverhead({ columns, rows, weights, dark }: Corners, x: Line, y: Line): number {
  if (dark) return 0;
  let sum = 0;
  for (let i = 0; i < columns; i++) {
    const inverse = real(x.inverse, i);
    let along = 0;
    for (let j = 0; j < rows; j++) {
      const weight = real(weights, j * columns + i);
      along += weight * Math.atan(real(y.offsets, j) * inverse);
    }
    sum += along * real(x.slopes, i);
  }
  for (let j = 0; j < rows; j++) {
    const inverse = real(y.inverse, j);
    let along = 0;
    for (let i = 0; i < columns; i++) {
      const weight = real(weights, j * columns + i);
      along += weight * Math.atan(real(x.offsets, i) * inverse);
    }
    sum += along * real(y.slopes, j);
  }
  return sum;
}

function fromWall({ columns, weights, dark }: Corners, along: Line, wall: Wall): number {
  if (dark) return 0;
  let sum = 0;
  for (let j = 0; j < wall.shares.length; j++) {
    const inverse = real(wall.inverse, j);
    let row = 0;
    for (let i = 0; i < columns; i++) {
      const weight = real(weights, j * columns + i);
      row += weight * Math.atan(real(along.offsets, i) * inverse);
    }
    // Higher up a wall the term falls, hence the minus.
    sum -= row * real(wall.shares, j);
  }
  return sum;
}

interface Corners {
  columns: number;
  rows: number;
  weights: Float64Array;
  dark: boolean;
}

/** Mixed second difference of the brightness at the corners of a face's patches. */
function cornersOf(grid: FaceGrid, leaving: Float64Array): Corners {
  const columns = grid.across + 1;
  const rows = grid.up + 1;
  const weights = new Float64Array(columns * rows);
  let dark = true;
  for (let j = 0; j < grid.up; j++) {
    for (let i = 0; i < grid.across; i++) {
      const value = real(leaving, grid.first + j * grid.across + i);
      if (value !== 0) dark = false;
      const at = j * columns + i;
      add(weights, at, value);
      weights[at + 1] = real(weights, at + 1) - value;
      weights[at + columns] = real(weights, at + columns) - value;
      add(weights, at + columns + 1, value);
    }
  }
  return { columns, rows, weights, dark };
}
