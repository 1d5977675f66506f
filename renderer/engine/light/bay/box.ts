import { parallelExchange, perpendicularExchange } from './viewFactors';
import { Refusal } from '../../../words';
import { real } from '../../entry';

/** The six faces of a shelf bay, in the order their patches are numbered. */
export const FACES = ['canopy', 'above', 'front', 'back', 'left', 'right'] as const;
export type Face = (typeof FACES)[number];

/** The bay between the canopy plane and the underside above, in the shelf's axes (mm). */
export interface BaySize {
  widthMm: number;
  depthMm: number;
  bottomMm: number;
  topMm: number;
}

/** Into how many patches each direction is cut. */
export interface Cuts {
  x: number;
  y: number;
  z: number;
}

/** One face cut into patches: `across` runs along x (y on the left and right faces). */
export interface FaceGrid {
  face: Face;
  /** Number of its first patch; patch (i, j) is first + j · across + i. */
  first: number;
  across: number;
  up: number;
  patchAreaM2: number;
  /** Unit normal into the bay. */
  normal: readonly [number, number, number];
  /** Corner of the face at i = j = 0, and the sides of a patch, in mm. */
  origin: readonly [number, number, number];
  sideI: readonly [number, number, number];
  sideJ: readonly [number, number, number];
}

/** A bay cut into patches, with how much of what leaves each arrives at each other. */
export interface BayBox {
  size: BaySize;
  cuts: Cuts;
  faces: Record<Face, FaceGrid>;
  count: number;
  areaM2: Float64Array;
  /** Exchange areas AᵢFᵢⱼ (m²), symmetric, row by row. */
  exchange: Float64Array;
}

function gridsOf(size: BaySize, cuts: Cuts): Record<Face, FaceGrid> {
  const { widthMm: w, depthMm: d, bottomMm: b, topMm: t } = size;
  const dx = w / cuts.x;
  const dy = d / cuts.y;
  const dz = (t - b) / cuts.z;
  let first = 0;
  const make = (
    face: Face,
    [across, up]: readonly [number, number],
    [sizeI, sizeJ]: readonly [number, number],
    normal: FaceGrid['normal'],
    origin: FaceGrid['origin'],
  ): FaceGrid => {
    const level = normal[2] !== 0;
    const alongX = level || normal[1] !== 0;
    const grid: FaceGrid = {
      face,
      first,
      across,
      up,
      patchAreaM2: sizeI * sizeJ * 1e-6,
      normal,
      origin,
      sideI: alongX ? [sizeI, 0, 0] : [0, sizeI, 0],
      sideJ: level ? [0, sizeJ, 0] : [0, 0, sizeJ],
    };
    first += across * up;
    return grid;
  };
  const level = [cuts.x, cuts.y] as const;
  const long = [cuts.x, cuts.z] as const;
  const short = [cuts.y, cuts.z] as const;
  return {
    canopy: make('canopy', level, [dx, dy], [0, 0, 1], [0, 0, b]),
    above: make('above', level, [dx, dy], [0, 0, -1], [0, 0, t]),
    front: make('front', long, [dx, dz], [0, 1, 0], [0, 0, b]),
    back: make('back', long, [dx, dz], [0, -1, 0], [0, d, b]),
    left: make('left', short, [dy, dz], [1, 0, 0], [0, 0, b]),
    right: make('right', short, [dy, dz], [-1, 0, 0], [w, 0, b]),
  };
}

/**
 * Cuts a bay into patches and works out their view factors. Patches of a face are equal, so that a
 * factor depends on the offset alone and is computed once. Throws on a bay without height.
 */
export function bayBox(size: BaySize, cuts: Cuts): BayBox {
  if (!(size.topMm > size.bottomMm)) {
    throw new Refusal(
      `bay from ${size.bottomMm} to ${size.topMm} mm: an underside above the canopy is expected`,
    );
  }
  const faces = gridsOf(size, cuts);
  const grids = FACES.map((face) => faces[face]);
  const count = grids.reduce((sum, grid) => sum + grid.across * grid.up, 0);
  const areaM2 = new Float64Array(count);
  for (const grid of grids) {
    areaM2.fill(grid.patchAreaM2, grid.first, grid.first + grid.across * grid.up);
  }
  const exchange = new Float64Array(count * count);
  const put = (i: number, j: number, value: number) => {
    exchange[i * count + j] = value;
    exchange[j * count + i] = value;
  };
  const [w, d, h] = [size.widthMm, size.depthMm, size.topMm - size.bottomMm].map((mm) => mm / 1000);
  const [W, D, H] = [w ?? 0, d ?? 0, h ?? 0];
  const { canopy, above, front, back, left, right } = faces;
  fillParallel(canopy, above, W, D, H, put);
  fillParallel(front, back, W, H, D, put);
  fillParallel(left, right, D, H, W, put);
  for (const level of [canopy, above]) {
    const upTurned = level === above;
    fillJ(level, front, W, { p: D, q: H }, { p: false, q: upTurned }, put);
    fillJ(level, back, W, { p: D, q: H }, { p: true, q: upTurned }, put);
    fillI(level, left, D, { p: W, q: H }, { p: false, q: upTurned }, put);
    fillI(level, right, D, { p: W, q: H }, { p: true, q: upTurned }, put);
  }
  for (const wall of [front, back]) {
    const turned = wall === back;
    fillUp(wall, left, H, { p: W, q: D }, { p: false, q: turned }, put);
    fillUp(wall, right, H, { p: W, q: D }, { p: true, q: turned }, put);
  }
  return { size, cuts, faces, count, areaM2, exchange };
}

type Put = (i: number, j: number, value: number) => void;

function fillParallel(
  a: FaceGrid,
  b: FaceGrid,
  sizeI: number,
  sizeJ: number,
  gap: number,
  put: Put,
) {
  const di = sizeI / a.across;
  const dj = sizeJ / a.up;
  const table = new Float64Array(a.across * a.up);
  for (let j = 0; j < a.up; j++) {
    for (let i = 0; i < a.across; i++) {
      table[j * a.across + i] = parallelExchange(di, dj, gap, i * di, j * dj);
    }
  }
  for (let ja = 0; ja < a.up; ja++) {
    for (let ia = 0; ia < a.across; ia++) {
      for (let jb = 0; jb < b.up; jb++) {
        for (let ib = 0; ib < b.across; ib++) {
          const value = real(table, Math.abs(ja - jb) * a.across + Math.abs(ia - ib));
          put(a.first + ja * a.across + ia, b.first + jb * b.across + ib, value);
        }
      }
    }
  }
}

interface Pair {
  p: number;
  q: number;
}

/**
 * Two faces that meet at an edge of length `edge` cut `counts.e` times. `numberP(e, k)` and
 * `numberQ(e, k)` give the patch at place e along the edge and k steps away from it.
 */
function fillPerpendicular(
  edge: number,
  size: Pair,
  counts: { e: number } & Pair,
  numberP: (e: number, k: number) => number,
  numberQ: (e: number, k: number) => number,
  put: Put,
) {
  const de = edge / counts.e;
  const dp = size.p / counts.p;
  const dq = size.q / counts.q;
  for (let k = 0; k < counts.p; k++) {
    for (let l = 0; l < counts.q; l++) {
      for (let offset = 0; offset < counts.e; offset++) {
        const value = perpendicularExchange(
          de,
          offset * de,
          k * dp,
          (k + 1) * dp,
          l * dq,
          (l + 1) * dq,
        );
        for (let e = 0; e + offset < counts.e; e++) {
          put(numberP(e, k), numberQ(e + offset, l), value);
          put(numberP(e + offset, k), numberQ(e, l), value);
        }
      }
    }
  }
}

interface Turned {
  p: boolean;
  q: boolean;
}

const stepsFrom = (turned: boolean, count: number, k: number) => (turned ? count - 1 - k : k);

/** A level face and the front or back: the edge runs along x. */
function fillJ(level: FaceGrid, wall: FaceGrid, edge: number, size: Pair, t: Turned, put: Put) {
  fillPerpendicular(
    edge,
    size,
    { e: level.across, p: level.up, q: wall.up },
    (e, k) => level.first + stepsFrom(t.p, level.up, k) * level.across + e,
    (e, k) => wall.first + stepsFrom(t.q, wall.up, k) * wall.across + e,
    put,
  );
}

/** A level face and the left or right side: the edge runs along y. */
function fillI(level: FaceGrid, side: FaceGrid, edge: number, size: Pair, t: Turned, put: Put) {
  fillPerpendicular(
    edge,
    size,
    { e: level.up, p: level.across, q: side.up },
    (e, k) => level.first + e * level.across + stepsFrom(t.p, level.across, k),
    (e, k) => side.first + stepsFrom(t.q, side.up, k) * side.across + e,
    put,
  );
}

/** Front or back and the left or right side: the edge stands upright. */
function fillUp(wall: FaceGrid, side: FaceGrid, edge: number, size: Pair, t: Turned, put: Put) {
  fillPerpendicular(
    edge,
    size,
    { e: wall.up, p: wall.across, q: side.across },
    (e, k) => wall.first + e * wall.across + stepsFrom(t.p, wall.across, k),
    (e, k) => side.first + e * side.across + stepsFrom(t.q, side.across, k),
    put,
  );
}
