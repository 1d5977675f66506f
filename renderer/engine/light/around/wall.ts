import type { Side } from '../../../../shared-types/rack';
import { add, real } from '../../entry';
import { addLampOnPatches, rectangleExchange, type BayBox, type FaceGrid } from '../bay';
import type { ReadyLamp } from '../sources/direct';

/** A rectangle of an upright plane: along the side, and up, mm. */
export interface Upright {
  fromMm: number;
  toMm: number;
  bottomMm: number;
  topMm: number;
}

/** A patch of a face as a rectangle of its plane. */
export function patchOf(grid: FaceGrid, at: number, shift = { alongMm: 0, upMm: 0 }): Upright {
  const [ox, oy, oz] = grid.origin;
  const [ix, iy] = grid.sideI;
  const [i, j] = [at % grid.across, Math.floor(at / grid.across)];
  const [step, up] = [ix + iy, grid.sideJ[2]];
  const fromMm = (grid.normal[0] !== 0 ? oy : ox) + i * step + shift.alongMm;
  const bottomMm = oz + j * up + shift.upMm;
  return { fromMm, toMm: fromMm + step, bottomMm, topMm: bottomMm + up };
}

/** A matrix that turns what leaves patches of one face into what arrives at those of another. */
export interface Transfer {
  rows: number;
  columns: number;
  share: Float64Array;
}

// Bays of a rack are mostly alike, and lamps move more often than sides.
const transfers = new Map<string, Transfer>();
const MOST_TRANSFERS = 48;

const placeOf = (plane: readonly Upright[]): string => {
  const [first, last] = [plane[0], plane.at(-1)];
  const corners = [first, last].flatMap((one) => (one ? Object.values(one) : []));
  return [plane.length, ...corners].join(' ');
};

/** Between two grids in parallel planes: Aᵢ Fᵢⱼ over the area that receives. */
export function transferBetween(
  to: readonly Upright[],
  from: readonly Upright[],
  apartMm: number,
): Transfer {
  const key = [placeOf(to), placeOf(from), apartMm].join('|');
  const before = transfers.get(key);
  if (before) return before;
  if (transfers.size >= MOST_TRANSFERS) transfers.clear();
  const made = transferOf(to, from, apartMm);
  transfers.set(key, made);
  return made;
}

function transferOf(to: readonly Upright[], from: readonly Upright[], apartMm: number): Transfer {
  const share = new Float64Array(to.length * from.length);
  to.forEach((a, i) => {
    const area = (a.toMm - a.fromMm) * (a.topMm - a.bottomMm);
    from.forEach((b, j) => {
      share[i * from.length + j] = rectangleExchange(a, b, apartMm) / area;
    });
  });
  return { rows: to.length, columns: from.length, share };
}

export function through({ rows, columns, share }: Transfer, leaving: Float64Array): Float64Array {
  const arriving = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    let sum = 0;
    for (let j = 0; j < columns; j++) sum += real(share, i * columns + j) * real(leaving, j);
    arriving[i] = sum;
  }
  return arriving;
}

/** All patches of a face. */
export const patchesOf = (grid: FaceGrid, shift?: { alongMm: number; upMm: number }): Upright[] =>
  Array.from({ length: grid.across * grid.up }, (_, at) => patchOf(grid, at, shift));

/** A wall behind an open side: what the side lets out comes back from it in part. */
export interface Wall {
  /** What falls on the side from the wall for what leaves the side, in patches of the side. */
  back: (leaving: Float64Array) => Float64Array;
  /** The same for the direct light of a lamp as it is seen through the side. */
  backOf: (lamp: ReadyLamp) => Float64Array;
}

const LEAST_STEP_MM = 60;
const MOST_STEPS = 15;
/** Of its distance, how far beside the side a wall counts: beyond lies little of what comes back. */
const REACHES = 4;

export function wallBehind(
  box: BayBox,
  side: Side,
  { reflectance, distanceMm }: { reflectance: number; distanceMm: number },
): Wall {
  const grid = box.faces[side];
  const own = patchesOf(grid);
  const { bottomMm, topMm, widthMm, depthMm } = box.size;
  const wide = grid.normal[0] !== 0 ? depthMm : widthMm;
  const beyond = REACHES * distanceMm;
  const span = wide + 2 * beyond;
  const high = topMm - bottomMm + 2 * beyond;
  const steps = (mm: number) =>
    Math.min(MOST_STEPS, Math.max(4, Math.ceil(mm / Math.max(LEAST_STEP_MM, distanceMm / 2))));
  const [across, up] = [steps(span), steps(high)];
  const out = (at: number) => (grid.normal[0] + grid.normal[1] > 0 ? -distanceMm : at + distanceMm);
  const level = grid.normal[0] !== 0;
  const wall: FaceGrid = {
    ...grid,
    first: 0,
    across,
    up,
    patchAreaM2: ((span / across) * (high / up)) / 1e6,
    origin: level
      ? [out(widthMm), -beyond, bottomMm - beyond]
      : [-beyond, out(depthMm), bottomMm - beyond],
    sideI: level ? [0, span / across, 0] : [span / across, 0, 0],
    sideJ: [0, 0, high / up],
  };
  const plane = patchesOf(wall);
  const toWall = transferBetween(plane, own, distanceMm);
  const fromWall = transferBetween(own, plane, distanceMm);
  const reflected = (onWall: Float64Array) =>
    through(
      fromWall,
      onWall.map((value) => reflectance * value),
    );
  const sheet: BayBox = { ...box, count: across * up };
  return {
    back: (leaving) => reflected(through(toWall, leaving)),
    backOf: (lamp) =>
      reflected(addLampOnPatches(sheet, lamp, [wall], new Float64Array(across * up))),
  };
}

/** Adds values of a face's patches to those of all patches of its bay. */
export function addOnFace(
  all: Float64Array,
  grid: FaceGrid,
  values: Float64Array,
  share = 1,
): void {
  values.forEach((value, at) => {
    add(all, grid.first + at, share * value);
  });
}

export const onFace = (all: Float64Array, { first, across, up }: FaceGrid): Float64Array =>
  all.slice(first, first + across * up);
